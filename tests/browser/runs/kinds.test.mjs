// Kinds of stick and mover: noticed and proposed, chosen by hand, with their cautions and limits.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { sentence } from "../lib/person.mjs";
import { leaveWaiting } from "../lib/plan.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

async function withStick(wish) {
  const visit = await visitor(browser, { address, scripts: [[scriptedPad, { period: 4 }]] });
  const { page } = visit;
  await page.goto(`${address}#/stick`);
  await page.evaluate((wish) => {
    window.scriptedStick.connect(0, wish);
    return window.scriptedStick.press(0, 0);
  }, wish);
  await page.getByRole("button", { name: /^Scripted stick/ }).click();
  return visit;
}

const moveTo = (page, to, milliseconds) =>
  page.evaluate((all) => window.scriptedStick.moveTo(...all), [to, milliseconds, 0]);

/** Starts one of the further tasks of the shortest plan. */
async function start(page, task) {
  const button = page.getByRole("button", { name: `Start: ${task}`, exact: true });
  if (!(await button.isVisible())) await page.getByText("More tasks", { exact: true }).click();
  await button.click();
  await page.getByRole("button", { name: "Begin", exact: true }).click();
}

test("a stick that moves on one line is noticed and proposed", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await withStick({ axes: 2, buttons: 1 });
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByRole("button", { name: /^3 minutes/ }).click();
  await start(page, "Free movement");
  let way = 1;
  while (!/^That is enough/.test(await sentence(page).textContent())) {
    await moveTo(page, [0.7 * way, 0], 400);
    await page.waitForTimeout(700);
    way = -way;
  }
  await page.getByRole("button", { name: /^Next: |^Done$/ }).click();
  await leaveWaiting(page);

  const proposal = page.getByRole("status").filter({ hasText: "Noticed" });
  await proposal.getByText("The stick seems to move on one line only.").waitFor();
  await proposal.getByText(/One line covered 70\s% of the way from end to end, the other 0\.0\s%/).waitFor();
  await assertAccessible(page, "a proposal");
  assert.deepEqual(await pictures(page, "kind-proposed"), []);
  // It is never set by itself.
  await page.evaluate(() => (location.hash = "#/stick"));
  const moves = page.getByRole("combobox", { name: /^It moves/ });
  await page.getByText("What kind of stick is it?").click();
  assert.equal(await moves.inputValue(), "two_axes");
  await page.getByRole("button", { name: "Yes, use this" }).click();
  assert.equal(await moves.inputValue(), "one_axis");
  await proposal.getByText("Noticed").waitFor({ state: "detached" });
  assertClean();
  await close();
});

test("a no is heeded", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await withStick({ axes: 2, buttons: 1 });
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByRole("button", { name: /^3 minutes/ }).click();
  await start(page, "Free movement");
  // A lever: one way only.
  while (!/^That is enough/.test(await sentence(page).textContent())) {
    await moveTo(page, [0.8, 0], 300);
    await page.waitForTimeout(500);
    await moveTo(page, [0, 0], 300);
    await page.waitForTimeout(600);
  }
  await page.getByRole("button", { name: /^Next: |^Done$/ }).click();
  await leaveWaiting(page);
  await page.getByText("The stick seems to move one way only.").waitFor();
  await page.getByText(/It may be the person, who pushes no other way/).waitFor();
  const keys = keyboard(page);
  await page.keyboard.press("Tab");
  await keys.use(/^No$/);
  await page.getByText("The stick seems to move one way only.").waitFor({ state: "detached" });
  assertClean();
  await close();
});

test("breath: its cautions, and a rest after five that one key ends", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await withStick({ axes: 2, buttons: 1 });
  const keys = keyboard(page);
  await page.keyboard.press("Tab");
  await keys.use(/^What kind of stick/);
  await keys.to(/^What moves it/);
  await keys.type("breath");
  await page.getByText(/Dizzy, tingling, a headache or short of breath: stop at once/).waitFor();
  await page.getByText(/mouthpiece is one person’s and is never shared/).waitFor();
  await assertAccessible(page, "cautions of breath");
  assert.deepEqual(await pictures(page, "kind-breath"), []);
  await keys.to(/^It moves/);
  await keys.type("one way");
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByRole("button", { name: /^3 minutes/ }).click();
  // The longer hold is not asked at all.
  await page.getByText("More tasks", { exact: true }).click();
  await page.getByRole("button", { name: "Start: Free movement", exact: true }).waitFor();
  assert.equal(await page.getByRole("button", { name: "Start: Longer hold", exact: true }).count(), 0);
  await page.getByText("Longer hold: Does not apply: no breath is held for long.").waitFor();
  await page.getByText(/resting on it while breathing in and out, without haste/).waitFor();

  await start(page, "Free movement");
  for (let breath = 1; breath <= 5; breath += 1) {
    assert.equal(await page.getByText(/^Five breath actions/).count(), 0, `after ${breath - 1}`);
    await moveTo(page, [0.6, 0], 100);
    await page.waitForTimeout(500);
    await moveTo(page, [0, 0], 100);
    await page.waitForTimeout(700);
  }
  await page.getByText(/^Five breath actions: rest and breathe as usual/).waitFor();
  // Nobody is hurried: it stays.
  await page.waitForTimeout(2500);
  assert.match(await sentence(page).textContent(), /^Resting/);
  await assertAccessible(page, "rest after five breaths");
  assert.deepEqual(await pictures(page, "breath-rest"), []);
  await page.keyboard.press("Tab");
  await keys.use(/^Go on$/);
  await sentence(page).filter({ hasText: /^Move any way/ }).waitFor();
  assertClean();
  await close();
});
