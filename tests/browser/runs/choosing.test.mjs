// Choosing a stick: three people answer by keyboard alone, and what they are told is what a
// practitioner would expect; the sheet of questions for the maker prints on one page.

import assert from "node:assert/strict";
import { mkdir, writeFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo, openCard, say, smallTargets } from "../lib/cards.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { pagesOf } from "../lib/pdf.mjs";
import { OUT, pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
  await mkdir(OUT, { recursive: true });
});
after(() => browser?.close());

/** The question that has the focus, by the legend of its group. */
const questionInFocus = (page) =>
  page.evaluate(() => document.activeElement?.closest("fieldset")?.querySelector("legend")?.textContent ?? "");

/** Goes to a question by Tab and to its answer by the arrow keys. */
async function answer(page, keys, question, wanted) {
  for (let step = 0; (await questionInFocus(page)) !== question; step += 1) {
    assert.ok(step < 60, `no question “${question}” by Tab`);
    await keys.press("Tab");
  }
  for (let step = 0; step < 14; step += 1) {
    const at = await keys.press("ArrowRight");
    if (at.name === wanted) return;
  }
  assert.fail(`no answer “${wanted}” to “${question}” by the arrow keys`);
}

/** Opens a card by keyboard and answers what is in it. */
async function card(page, keys, title, answers) {
  await keys.use(new RegExp(`^${title}`));
  for (const [question, wanted] of answers) await answer(page, keys, question, wanted);
}

/** Ticks a place by keyboard. */
const tick = (keys, name) => keys.use(new RegExp(`^${name}$`), "Space");

/** The advice as lines: each item's sentence. */
function advised(page) {
  return page.getByRole("region", { name: "What to look for" }).locator("ul.advice > li > p:first-child").allTextContents();
}

/** What a screen reader is given, into a file to be read by people. */
async function asHeard(page, name) {
  const heard = await page.getByRole("main").ariaSnapshot();
  await writeFile(`${OUT}choosing-${name}.txt`, heard);
  return heard;
}

function assertAdvised(lines, patterns) {
  for (const pattern of patterns) {
    assert.ok(lines.some((line) => pattern.test(line)), `${pattern} in:\n  ${lines.join("\n  ")}`);
  }
}

/** Every piece of advice is one whole sentence with its reason. */
function assertWhole(lines) {
  for (const line of lines) {
    assert.match(line, /^(Begin|Borrow|Look for|Avoid|Try both).+, because .+; .+\.$/, line);
    assert.doesNotMatch(line, /undefined|NaN|\(\)|\.\.|;\s*;/, line);
  }
}

async function sheet(page, name) {
  await page.getByRole("button", { name: "Questions for the maker" }).click();
  await page.getByRole("heading", { name: "Questions for the maker", level: 1 }).waitFor();
  await page.getByText("This fits on one page.").waitFor();
  await assertAccessible(page, `the questions, ${name}`);
  let text = "";
  for (const format of ["A4", "Letter"]) {
    const pdf = await page.pdf({ format });
    const pages = await pagesOf(pdf);
    assert.equal(pages.length, 1, `${format}, ${name}: ${pages.length} pages`);
    if (format === "A4") await writeFile(`${OUT}questions-${name}.pdf`, pdf);
    text = pages[0];
  }
  return text;
}

async function newVisitor(more = {}) {
  const made = await visitor(browser, { address, ...more });
  await made.page.goto(`${address}#/stick`);
  await made.page.getByRole("heading", { level: 1 }).waitFor();
  const keys = keyboard(made.page);
  // A fresh page has the focus nowhere; the first press brings it in.
  await made.page.keyboard.press("Tab");
  return { ...made, keys };
}

test("without an answer there is a short, honest beginning", async () => {
  const { page, keys, assertClean, close } = await newVisitor();
  // The way to it, by keyboard.
  await keys.use(/^Choosing a stick/);
  await page.getByRole("heading", { name: "Choosing a stick", level: 1 }).waitFor();
  await page.getByText("Nothing is answered or measured yet").waitFor();
  const lines = await advised(page);
  assert.equal(lines.length, 2);
  assertWhole(lines);
  assert.match(lines[0], /^Begin with the stick of an ordinary pad, because it is the cheapest and has everything on it;/);
  assert.equal(await page.getByRole("link", { name: "Stick", exact: true }).getAttribute("aria-current"), "true");
  await assertAccessible(page, "choosing, empty");
  assert.deepEqual(await smallTargets(page, "choosing, empty"), []);
  await asHeard(page, "nobody");
  assert.deepEqual(await pictures(page, "choosing-empty"), []);
  assertClean();
  await close();
});

test("a hand with a short reach that was measured", { timeout: 180_000 }, async () => {
  const { page, keys, assertClean, close } = await newVisitor();
  await openKept(page, address);
  await goTo(page, "choosing");
  // What was measured is there before anything is answered.
  assertAdvised(await advised(page), [
    /^Look for a short throw.+comfortable reach to the right is \d+\s% \(\d+ to \d+\s%\) of the travel/,
    /^Look for settings of its own/,
  ]);
  await page.getByText(/Full output at a push of \d/).waitFor();
  await card(page, keys, "What moves the stick", [
    ["Which part of the body?", "hand"],
    ["How far does it move in comfort?", "a little"],
    ["How strongly does it push?", "as usual"],
  ]);
  await card(page, keys, "How it holds on", [
    ["Can it hold on to something?", "it hooks over, or lies flat"],
    ["For how long in comfort?", "half an hour"],
  ]);
  await card(page, keys, "Buttons and breath", [["What can press buttons?", "another part"]]);
  const lines = await advised(page);
  assertWhole(lines);
  assertAdvised(lines, [
    /^Look for a short throw.+the hand moves only a little and comfortable/,
    /^Look for a U-shaped top/,
    /^Look for support for the forearm/,
    /^Look for fine steps/,
    /^Look for sockets for switches/,
    /^Look for a base that does not slip/,
  ]);
  assert.ok(!lines.some((line) => /heavier spring/.test(line) && /^(Look|Try)/.test(line) && !/no heavier/.test(line)));
  await page.getByText("MIL-STD-1472E, 5.4.3.2.1.4").first().waitFor();
  await asHeard(page, "hand");
  await assertAccessible(page, "choosing, a hand");
  assert.deepEqual(await smallTargets(page, "choosing, a hand"), []);
  assert.deepEqual(await pictures(page, "choosing-hand"), []);
  const text = await sheet(page, "hand");
  for (const question of [/usage page 1/, /report descriptor/, /Which eight buttons/, /sockets for separate switches/, /first third/]) {
    assert.match(text, question);
  }
  assert.doesNotMatch(text, /wheelchair|mouthpiece/i);
  assert.deepEqual(await smallTargets(page, "the questions"), []);
  assert.deepEqual(await pictures(page, "questions-hand"), []);
  assertClean();
  await close();
});

test("a weak chin at a wheelchair", { timeout: 180_000 }, async () => {
  const { page, keys, assertClean, close } = await newVisitor({ size: { width: 390, height: 844 } });
  await goTo(page, "choosing");
  await card(page, keys, "What moves the stick", [
    ["Which part of the body?", "chin"],
    ["How far does it move in comfort?", "hardly at all"],
    ["How strongly does it push?", "can hardly press"],
  ]);
  await card(page, keys, "How it holds on", [["For how long in comfort?", "some minutes"]]);
  await card(page, keys, "Where a stick can be", [["How does the person sit or lie?", "leaning back"]]);
  await tick(keys, "on a wheelchair");
  await answer(page, keys, "Can any part reach the stick of an ordinary pad?", "no");
  await card(page, keys, "Buttons and breath", [
    ["What can press buttons?", "nothing can"],
    ["Can breath be used, in and out of a tube?", "yes"],
  ]);
  const lines = await advised(page);
  assertWhole(lines);
  assert.match(lines[0], /^Borrow before you buy/);
  assertAdvised(lines, [
    /^Look for little force.+can hardly press/,
    /^Try both, a spring-centred stick and a force stick/,
    /^Try both, a stick that comes back by itself and one that stays/,
    /^Look for a cup on top/,
    /^Look for a mount that gives way and swings clear of the face/,
    /^Look for a mount that the wheelchair’s maker/,
    /^Look for a switch that is worked by breath/,
    /^Look for a mount that can be turned/,
  ]);
  const watch = (await page.locator("ul.caution").textContent()) ?? "";
  for (const caution of [/never block breathing or speaking/, /one person’s and is never shared/, /must not foul the chair’s own controls/, /tires soon/, /neck/, /Never use these settings/]) {
    assert.match(watch, caution);
  }
  await page.getByText(/7\.9\s% of the greatest/).waitFor();
  // The same answer as on Ready.
  await answer(page, keys, "Breathing support", "yes");
  await page.getByText(/^Avoid a switch that is worked by breath/).waitFor();
  const withSupport = await advised(page);
  await asHeard(page, "chin");
  await assertAccessible(page, "choosing, a chin");
  assert.deepEqual(await smallTargets(page, "choosing, a chin"), []);
  assert.deepEqual(await pictures(page, "choosing-chin"), []);

  // Kept with the fitting, and asked of nobody twice.
  await goTo(page, "ready");
  await page.getByRole("textbox", { name: "A name for this fitting" }).fill("Chin at the chair");
  await page.getByRole("heading", { level: 1 }).click();
  await goTo(page, "kept");
  await page.getByText(/Chin at the chair/).first().waitFor();
  await page.waitForTimeout(300);
  await page.reload();
  await page.getByRole("button", { name: "Open: Chin at the chair" }).click();
  await page.getByRole("heading", { name: "Before anything moves" }).waitFor();
  await goTo(page, "choosing");
  await page.getByText("chin; hardly moves; can hardly press").waitFor();
  assert.deepEqual(await advised(page), withSupport);
  assertClean();
  await close();
});

test("a strong foot on the floor", { timeout: 180_000 }, async () => {
  const { page, keys, assertClean, close } = await newVisitor();
  await goTo(page, "choosing");
  await card(page, keys, "What moves the stick", [
    ["Which part of the body?", "foot"],
    ["How far does it move in comfort?", "middling"],
    ["How strongly does it push?", "strongly, or in jerks"],
    ["Does it move without being meant to?", "sudden jerks"],
  ]);
  await card(page, keys, "How it holds on", [
    ["Are its muscles weak?", "no"],
    ["Does moving it hurt?", "no"],
  ]);
  const heavier = page.getByText(/^Try both, the usual spring and a heavier one/);
  assert.equal(await heavier.count(), 0, "joints were not asked");
  await answer(page, keys, "Joints that slip out", "no");
  await heavier.waitFor();
  await card(page, keys, "Where a stick can be", []);
  await tick(keys, "on the floor");
  await card(page, keys, "Buttons and breath", [
    ["What can press buttons?", "another part"],
    ["How many buttons are needed?", "more than eight"],
  ]);
  const lines = await advised(page);
  assertWhole(lines);
  assertAdvised(lines, [
    /^Begin with the stick of an ordinary pad/,
    /^Look for a long throw/,
    /^Look for a flat, rough top/,
    /^Look for support for the leg/,
    /^Look for a wide, heavy base for the floor/,
    /^Look for enough buttons that get through/,
  ]);
  await asHeard(page, "foot");
  await assertAccessible(page, "choosing, a foot");
  assert.deepEqual(await pictures(page, "choosing-foot"), []);
  const text = await sheet(page, "foot");
  assert.match(text, /after the first eight/);
  assert.match(text, /push or pull does it stand/);
  assertClean();
  await close();
});

test("the longest sheet still prints on one page", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await newVisitor();
  await goTo(page, "choosing");
  const moves = await openCard(page, "What moves the stick");
  await say(moves, "Which part of the body?", "lip, tongue or mouth");
  await say(moves, "How far does it move in comfort?", "hardly at all");
  await say(moves, "How strongly does it push?", "strongly, or in jerks");
  await say(await openCard(page, "How it holds on"), "For how long in comfort?", "some minutes");
  const place = await openCard(page, "Where a stick can be");
  await say(place, "How does the person sit or lie?", "on the side");
  for (const where of await place.getByRole("checkbox").all()) await where.check();
  const controls = await openCard(page, "Buttons and breath");
  await say(controls, "What can press buttons?", "nothing can");
  await say(controls, "How many buttons are needed?", "more than eight");
  const care = await openCard(page, "Skin, mouth and cleaning");
  for (const question of ["Does skin that is touched get sore or break?", "Do saliva or other liquids get at it?", "Will more than one person use it?"]) {
    await say(care, question, "yes");
  }
  await asHeard(page, "everything");
  const text = await sheet(page, "longest");
  for (const question of [/Mouthpieces/, /wheelchair/, /sealed/, /without a spring/, /side by side/, /skin touches/]) {
    assert.match(text, question);
  }
  assert.doesNotMatch(text, /sore|saliva gets|jerks/, "nothing about the person is on the sheet");
  assertClean();
  await close();
});
