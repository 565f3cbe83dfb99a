// Four ways to ask: each with a scripted device for one short task; what is seen and heard of them;
// a side that looks weak is asked again with a sign in the middle.

import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { sentence } from "../lib/person.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

/**
 * Runs inside the page: voices that only write down what they were asked to say, and a sound that
 * writes down its tones. `local`: whether one of the voices is of this machine.
 */
function heardThings({ local }) {
  window.said = [];
  window.tones = [];
  const voice = (name, localService, usual) => ({
    name,
    localService,
    default: usual,
    lang: "en-GB",
    voiceURI: name,
  });
  // The one elsewhere is the browser's own choice and stands first.
  const voices = [voice("Far voice", false, true)];
  if (local) voices.push(voice("Near voice", true, false));
  Object.defineProperty(window, "speechSynthesis", {
    configurable: true,
    value: {
      getVoices: () => voices,
      cancel() {},
      speak: (what) => window.said.push({ text: what.text, by: what.voice?.name ?? null }),
    },
  });
  window.SpeechSynthesisUtterance = class {
    constructor(text) {
      this.text = text;
      this.voice = null;
    }
  };
  const start = OscillatorNode.prototype.start;
  OscillatorNode.prototype.start = function (...when) {
    window.tones.push({ hertz: this.frequency.value, at: when[0] });
    return start.apply(this, when);
  };
}

const AWAY = { right: [1, 0], left: [-1, 0], up: [0, -1], down: [0, 1] };

/** The plan of three minutes, with a scripted stick; `task` waits to begin. */
async function ready(task, { local = true, ...more } = {}) {
  const scripts = [
    [scriptedPad, { period: 4 }],
    [heardThings, { local }],
  ];
  const visit = await visitor(browser, { address, scripts, ...more });
  const { page } = visit;
  await page.goto(`${address}#/stick`);
  await page.evaluate(() => {
    window.scriptedStick.connect(0, { axes: 2, buttons: 2, noise: 0.001 });
    return window.scriptedStick.press(0, 0);
  });
  await page.getByRole("button", { name: /^Scripted stick/ }).click();
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByRole("button", { name: /^3 minutes/ }).click();
  await start(page, task);
  return visit;
}

/** Starts a task, which waits to begin. */
async function start(page, task) {
  const button = page.getByRole("button", { name: `Start: ${task}`, exact: true });
  if (!(await button.isVisible())) await page.getByText("More tasks", { exact: true }).click();
  await button.click();
  await page.getByRole("button", { name: "Begin", exact: true }).waitFor();
}

const begin = (page) => page.getByRole("button", { name: "Begin", exact: true }).click();
const folded = (page) => page.locator("details.asking > summary");
const radio = (page, name) => page.getByRole("radio", { name });
const moveTo = (page, to, milliseconds) =>
  page.evaluate((all) => window.scriptedStick.moveTo(...all), [to, milliseconds, 0]);

/** One push out and back. */
async function push(page, [x, y], reach) {
  await moveTo(page, [x * reach, y * reach], 250);
  await page.waitForTimeout(750);
  await moveTo(page, [0, 0], 200);
  await page.waitForTimeout(200);
}

/** The way the sentence names, which a reader of the screen hears in every way of asking. */
async function asked(page) {
  const text = await sentence(page).textContent();
  const found = Object.keys(AWAY).find((way) => new RegExp(`Push .*\\b${way}\\b`, "i").test(text));
  return found && AWAY[found];
}

/** Pushes as it is asked (or as `goes` says) until nothing more is asked. */
async function pushAll(page, reach, goes) {
  for (let count = 0; count < 60; ) {
    const text = await sentence(page).textContent();
    if (/^That is enough/.test(text)) return count;
    const free = goes && /^Push any way/.test(text);
    const way = free ? goes(count) : await asked(page);
    if (way) {
      await push(page, way, typeof reach === "function" ? reach(way) : reach);
      // A push is over a little after the stick is back; another one begun before is a part of it.
      if (!free) await sentence(page).filter({ hasText: text }).waitFor({ state: "hidden" });
      count += 1;
    } else await page.waitForTimeout(60);
  }
  throw new Error("the task did not end");
}

/** Leaves a finished task for the plan. */
async function finish(page) {
  await sentence(page).filter({ hasText: /^That is enough/ }).waitFor({ timeout: 60_000 });
  await page.getByRole("button", { name: /^Next: |^Done$/ }).click();
  const leave = page.getByRole("button", { name: "Leave this task" });
  if (await leave.isVisible()) await leave.click();
}

const hidden = (page, selector) =>
  page.evaluate((selector) => {
    const box = document.querySelector(selector).getBoundingClientRect();
    return box.width <= 1 && box.height <= 1;
  }, selector);

describe("ways of asking", { concurrency: 2 }, () => {
  test("shown: pictures, no words, a mark and a query", { timeout: 240_000 }, async () => {
    const { page, assertClean, close } = await ready("Reach");
    await assertAccessible(page, "told, before");
    const keys = keyboard(page);
    await page.keyboard.press("Tab");
    await keys.use(/^How to ask: told in words/);
    assert.deepEqual(await pictures(page, "asking-choices"), []);
    await assertAccessible(page, "the choices");
    await keys.to(/^told in words/);
    await page.keyboard.press("ArrowDown");
    await folded(page).filter({ hasText: "How to ask: shown, follow me" }).waitFor();
    assert.ok(await radio(page, /^shown/).isChecked());
    await keys.use(/^How to ask:/);
    await keys.use(/^Begin$/);
    await page.locator(".ghost").waitFor();
    // What is asked is drawn, and read by those who hear the screen; nobody has to read it.
    assert.ok(await hidden(page, ".words"));
    assert.ok(await asked(page));
    await assertAccessible(page, "shown");
    assert.deepEqual(await pictures(page, "asking-shown"), []);

    // More than 60 degrees off: the question is there, and so are the marks.
    const [x, y] = await asked(page);
    await push(page, [-x, -y], 0.6);
    await page.getByRole("button", { name: "It was meant: count it" }).waitFor();
    await page.getByRole("button", { name: "Ask it again" }).waitFor();
    await assertAccessible(page, "a query in the shown way");
    assert.deepEqual(await pictures(page, "asking-shown-query"), []);
    await page.keyboard.press("m");
    await page.getByRole("dialog").getByRole("button", { name: "spasm", exact: true }).click();
    await pushAll(page, 0.6);
    await finish(page);
    assertClean();
    await close();
  });

  test("a push that stands out is asked about after the task, and answered by keyboard", { timeout: 240_000 }, async () => {
    const { page, assertClean, close } = await ready("Reach");
    await begin(page);
    let right = 0;
    await pushAll(page, ([x]) => (x > 0 && ++right === 2 ? 0.15 : 0.6));
    await finish(page);
    const keep = page.getByRole("button", { name: /^It was meant: count it, push \d to the right$/ });
    await keep.waitFor();
    assert.equal(await page.getByRole("button", { name: /, push \d/ }).count(), 1);
    await assertAccessible(page, "a push that stands out");
    assert.deepEqual(await pictures(page, "push-question"), []);
    const keys = keyboard(page);
    await page.keyboard.press("Tab");
    await keys.use(/^It was meant: count it, push \d/);
    await page.getByRole("status").filter({ hasText: "That push counts now." }).waitFor();
    await keep.waitFor({ state: "detached" });
    // Taken back where the pushes stand one by one.
    await keys.use(/^Your pushes, one by one/);
    const row = page.getByRole("row", { name: /^Right/ });
    await row.filter({ hasText: /1\d\s%.*\(stands out; counted\)/ }).waitFor();
    assert.deepEqual(await pictures(page, "push-list"), []);
    await keys.use(/^Not on purpose: leave it out, push \d/);
    await page.getByRole("status").filter({ hasText: "That push is left out now." }).waitFor();
    await keep.waitFor();
    assertClean();
    await close();
  });

  test("free: whatever is pushed counts, and nothing is queried", { timeout: 240_000 }, async () => {
    const { page, assertClean, close } = await ready("Reach");
    await folded(page).click();
    await radio(page, /^free/).check();
    await begin(page);
    await sentence(page).filter({ hasText: /^Push any way you like/ }).waitFor();
    await assertAccessible(page, "free");
    assert.deepEqual(await pictures(page, "asking-free"), []);
    const count = await pushAll(page, 0.5, () => AWAY.left);
    assert.ok(count >= 8, `${count}`);
    await finish(page);
    await page.evaluate(() => (location.hash = "#/settings"));
    await page.locator("summary", { hasText: "The person’s movement" }).first().click();
    await page.getByText(/^Reach of their own accord/).waitFor();
    await page.getByRole("cell", { name: /^left [45]\d(\.\d)?\s% \(\d+×\)/ }).waitFor();
    assertClean();
    await close();
  });

  test("moved by a helper: counted, and in no figure", { timeout: 240_000 }, async () => {
    const { page, assertClean, close } = await ready("Reach");
    await folded(page).click();
    await radio(page, /^moved by a helper/).check();
    await begin(page);
    await sentence(page).filter({ hasText: /^The helper moves the stick\. Push/ }).waitFor();
    await assertAccessible(page, "moved by a helper");
    assert.deepEqual(await pictures(page, "asking-helper"), []);
    const count = await pushAll(page, 0.9);
    await finish(page);
    // Still to be asked of the person.
    await page.getByRole("button", { name: "Start: Reach", exact: true }).waitFor();
    await page.evaluate(() => (location.hash = "#/settings"));
    // A push that a busy machine saw too little of was asked for once more.
    const said = await page.getByText(/^\d+ repetitions moved by a helper/).textContent();
    const told = Number.parseInt(said, 10);
    assert.ok(told >= 8 && told <= count, `${said}, of ${count} pushes`);
    assertClean();
    await close();
  });

  test("told, then another way in a pause; a voice of this machine only", { timeout: 240_000 }, async () => {
    const { page, assertClean, close } = await ready("Reach");
    await folded(page).click();
    // Silent until somebody wants to hear it.
    assert.equal(await page.getByRole("checkbox", { name: /^Soft tones/ }).isChecked(), false);
    assert.equal(await page.getByRole("checkbox", { name: /^Say it aloud/ }).isChecked(), false);
    await page.getByRole("checkbox", { name: /^Say it aloud/ }).check();
    await page.getByText("Spoken by Near voice, a voice of this machine.").waitFor();
    await page.getByRole("checkbox", { name: /^Soft tones/ }).check();
    assert.equal(await page.getByRole("slider", { name: "How loud" }).inputValue(), "30");
    await begin(page);
    for (let count = 0; count < 2; ) {
      const way = await asked(page);
      if (way) {
        await push(page, way, 0.6);
        count += 1;
      } else await page.waitForTimeout(60);
    }
    await page.keyboard.press("Escape");
    await page.getByRole("button", { name: "Change how it is asked" }).click();
    if (!(await radio(page, /^shown/).isVisible())) await folded(page).click();
    await page.getByText(/^Changing the way in a pause keeps what was done/).waitFor();
    await assertAccessible(page, "choices in a pause");
    assert.deepEqual(await pictures(page, "asking-pause"), []);
    await radio(page, /^shown/).check();
    // It waits for somebody to begin with what is left.
    await begin(page);
    const left = await pushAll(page, 0.6);
    await finish(page);
    const said = await page.evaluate(() => window.said);
    assert.ok(said.some(({ text }) => /^Push/.test(text)), JSON.stringify(said));
    assert.deepEqual([...new Set(said.map(({ by }) => by))], ["Near voice"]);
    const tones = await page.evaluate(() => window.tones);
    assert.ok(tones.length >= 2 * (2 + left), `${tones.length} tones, ${left} left`);
    assert.ok(tones.every(({ hertz }) => hertz >= 250 && hertz <= 700));
    // Remembered for the visit.
    await start(page, "Hold");
    await folded(page).filter({ hasText: "shown, follow me, with tones, with speech" }).waitFor();
    assertClean();
    await close();
  });

  test("without a voice of this machine nothing is spoken", { timeout: 120_000 }, async () => {
    const { page, assertClean, close } = await ready("Reach", { local: false });
    await folded(page).click();
    await page.getByRole("checkbox", { name: /^Say it aloud/ }).check();
    await page.getByText(/names no voice of this machine/).waitFor();
    await page.getByRole("combobox", { name: /^The direction is shown by/ }).selectOption("spoken");
    await radio(page, /^shown/).check();
    await begin(page);
    // A helper reads it, so it is seen even where no reading is needed of the person.
    await page.getByText(/^Helper, say it aloud: Push/).waitFor();
    assert.equal(await hidden(page, ".words"), false);
    await push(page, await asked(page), 0.6);
    assert.deepEqual(await page.evaluate(() => [window.said, window.tones]), [[], []]);
    assertClean();
    await close();
  });

  test("one object on black, also at rest and with little movement", { timeout: 240_000 }, async () => {
    const { page, assertClean, close } = await ready("Reach", { still: true });
    await folded(page).click();
    await page.getByRole("combobox", { name: "It looks like" }).selectOption("one_object");
    await radio(page, /^shown/).check();
    await assertAccessible(page, "choices on black");
    assert.deepEqual(await pictures(page, "asking-one-object-choices"), []);
    await folded(page).click();
    await begin(page);
    await page.locator(".ghost").waitFor();
    const way = await page.evaluate(() => getComputedStyle(document.querySelector(".ghost-way")).animationName);
    assert.equal(way, "none", "no movement where none is wanted");
    await assertAccessible(page, "one object");
    assert.deepEqual(await pictures(page, "asking-one-object"), []);
    assert.equal(
      await page.evaluate(() => getComputedStyle(document.querySelector(".measuring")).backgroundColor),
      "rgb(0, 0, 0)",
    );
    await pushAll(page, 0.6);
    await finish(page);
    for (const [task, prompt, name] of [
      ["Quiet rest", /^Rest/, "rest"],
      ["Hold", /into the ring/, "hold"],
      ["Presses", /^Button \d+/, "presses"],
      ["Hands off", /./, "hands-off"],
    ]) {
      await start(page, task);
      await begin(page);
      await sentence(page).filter({ hasText: prompt }).waitFor({ timeout: 20_000 });
      await assertAccessible(page, name);
      assert.deepEqual(await pictures(page, `asking-one-object-${name}`), []);
      await page.evaluate(() => (location.hash = "#/stick"));
      await page.getByRole("heading", { name: "Which stick?" }).waitFor();
      await page.evaluate(() => (location.hash = "#/measure"));
    }
    assertClean();
    await close();
  });

  test("a side that looks weak is asked again with a sign in the middle", { timeout: 360_000 }, async () => {
    const { page, assertClean, close } = await ready("Reach");
    await begin(page);
    const short = ([x]) => (x < 0 ? 0.3 : 0.7);
    await pushAll(page, short);
    await finish(page);
    const note = page.getByRole("status").filter({ hasText: "looks weak" });
    await note.waitFor();
    await note.getByText(/^Before that is called reach/).waitFor();
    await note.getByRole("button", { name: "Ask that side by voice" }).waitFor();
    await assertAccessible(page, "a weak side");
    assert.deepEqual(await pictures(page, "asking-weak-side"), []);
    await note.getByRole("button", { name: "Ask that side with a sign in the middle" }).click();
    await page.getByText("Go where the sign in the middle points.").waitFor();
    await begin(page);
    await page.locator(".sign .full").first().waitFor();
    assert.deepEqual(await pictures(page, "asking-central"), []);
    await assertAccessible(page, "a sign in the middle");
    // Seen in the middle, this person goes as far to the left as to the right.
    await pushAll(page, 0.7);
    await finish(page);
    await page.getByText(/seeing or attention may be what limits it/).waitFor();
    assert.deepEqual(await pictures(page, "asking-verdict"), []);
    // The two are never pooled.
    await page.evaluate(() => (location.hash = "#/settings"));
    await page.locator("summary", { hasText: "The person’s movement" }).first().click();
    await page.getByText(/^Reach, cued by a sign in the middle/).waitFor();
    assertClean();
    await close();
  });
});
