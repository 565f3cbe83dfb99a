// A stick that is unplugged and plugged in again at every moment of every task, and on every screen,
// beside another device that comes and goes. The browser tells of it from within the page's own look
// (observed, Chromium 156 on Linux): the scripted device does the same.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, describe, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { sentence } from "../lib/person.mjs";
import { pluggingHand } from "../lib/plugging-hand.mjs";
import { samplesOf } from "../lib/recording.mjs";
import { SCREENS } from "../lib/screens.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const GONE = "The stick is gone.";
const RING = "Push , into the ring.";
const STAY = "Stay in the ring.";
const GOOD = "Good. Rest a moment.";

/** Each kind of task with everything it asks until it begins to repeat itself. */
const TASKS = [
  ["Hands off", ["Hands off. Nobody touches the stick.", "That is enough. Rest."]],
  ["Quiet rest", ["Rest on the stick, ready to play. Do nothing."]],
  ["Reach", ["Push , as far as is comfortable. Then let it come back.", GOOD]],
  ["Hold", [RING, STAY, GOOD]],
  ["Longer hold", [RING, STAY, "How hard was that?"]],
  ["Return", [RING, STAY, "Let go. Let it come back.", GOOD]],
  ["Presses", ["Button : press once.", "Wait. The next one comes by itself."]],
  ["Free movement", ["Move any way you like."]],
  ["Busy rest", ["Rest on the stick while talking."]],
];

/** A visitor who has chosen the scripted stick, on the screen of the sticks. */
async function withStick() {
  const scripts = [[scriptedPad, { period: 4 }], [pluggingHand]];
  const someone = await visitor(browser, { address, scripts });
  const { page } = someone;
  await page.goto(`${address}#/stick`);
  await page.getByRole("heading", { name: "Which stick?" }).waitFor();
  await page.evaluate(() => window.plugging.plug(1));
  await page.getByRole("button", { name: /^Scripted stick/, pressed: true }).waitFor();
  return someone;
}

/** Unplugs and plugs at each thing that is asked for the first time, until all of them were met. */
async function throughMoments(page, wanted) {
  let place = 1;
  await page.evaluate(() => window.plugging.begin(window.plugging.place));
  for (;;) {
    await page.getByRole("status").filter({ hasText: GONE }).waitFor({ timeout: 60_000 });
    assert.equal(await sentence(page).textContent(), "Resting.");
    const met = await page.evaluate(() => window.plugging.met);
    if (wanted.every((text) => met.includes(text))) await page.evaluate(() => window.plugging.end());
    // In its own place and in another one, by turns. By itself, nobody presses anything.
    place = place === 1 ? 5 : 1;
    // Counted in the page: the next thing asked for may unplug it again before anybody looks from here.
    const before = await page.evaluate(() => window.plugging.wentOn);
    await page.evaluate((place) => window.plugging.plug(place), place);
    await page.waitForFunction((before) => window.plugging.wentOn > before, before);
    if (wanted.every((text) => met.includes(text))) return met.length;
  }
}

// Side by side: each waits for its person most of the time.
describe("a stick that comes out of its socket", { concurrency: 3 }, () => {
  for (const [task, wanted] of TASKS) {
    test(`at every moment of the task: ${task}`, { timeout: 180_000 }, async () => {
      const { page, assertClean, close } = await withStick();
      await page.getByRole("button", { name: "Go on to measuring" }).click();
      await page.getByRole("button", { name: /^3 minutes/ }).click();
      const start = page.getByRole("button", { name: `Start: ${task}`, exact: true });
      if (!(await start.isVisible())) await page.getByText("More tasks", { exact: true }).click();
      await start.click();
      const begin = page.getByRole("button", { name: "Begin", exact: true });
      await begin.waitFor();
      // Before it has begun, too.
      await page.evaluate(() => window.plugging.unplug());
      await page.getByText(GONE).waitFor();
      await page.evaluate(() => window.plugging.plug(1));
      await page.getByText(GONE).waitFor({ state: "detached" });
      await begin.click();
      const times = await throughMoments(page, wanted);
      // What there is can still be kept while the stick is out.
      await page.evaluate(() => window.plugging.unplug());
      await page.getByText(GONE).waitFor();
      await page.getByRole("button", { name: "Stop this task and keep it" }).first().click();
      await page.evaluate(() => (location.hash = "#/hand-over"));
      const download = page.waitForEvent("download");
      await page.getByRole("button", { name: "Save the fitting with its recordings" }).click();
      const saved = JSON.parse(await readFile(await (await download).path(), "utf8"));
      assert.equal(saved.fittings[0].body.device.name, "Scripted stick", "the stick that was measured, though it is out");
      const { record } = saved.tasks[0].body;
      // One more or less: after the last push is done it is no pause any more.
      assert.ok(record.pauses.length >= times - 1, JSON.stringify(record.pauses));
      const samples = samplesOf(record.recording);
      for (const { from_seconds: from, to_seconds: to } of record.pauses) {
        const inside = samples.filter(({ arrival_seconds: at }) => at > from + 0.05 && at < to - 0.25);
        assert.equal(inside.length, 0, "nothing is recorded while it is out");
      }
      assert.equal(await page.locator("#rescue").count(), 0);
      assertClean();
      await close();
    });
  }

  test("on every screen", { timeout: 120_000 }, async () => {
    const { page, assertClean, close } = await withStick();
    const looked = () =>
      page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    for (const [turn, screen] of SCREENS.entries()) {
      await page.evaluate((screen) => (location.hash = `#/${screen}`), screen);
      await page.getByRole("main").waitFor();
      await page.evaluate(() => window.plugging.unplug());
      await looked();
      await page.evaluate((place) => window.plugging.plug(place), turn % 7);
      await looked();
      assert.equal(await page.locator("#rescue").count(), 0, screen);
    }
    await page.evaluate(() => (location.hash = "#/stick"));
    await page.getByRole("button", { name: /^Scripted stick/, pressed: true }).waitFor();
    await page.evaluate(() => window.scriptedStick.moveTo([1, 0], 0, window.plugging.place));
    await page.getByText(/100\s% right/).waitFor();
    assertClean();
    await close();
  });
});

describe("a stick that shows itself", () => {
  /** A visitor on the screen of the sticks with none in use. */
  async function visit() {
    const someone = await visitor(browser, { address, scripts: [[scriptedPad, { period: 4 }]] });
    await someone.page.goto(`${address}#/stick`);
    await someone.page.getByRole("heading", { name: "Which stick?" }).waitFor();
    return someone;
  }
  const show = (page, place, id) =>
    page.evaluate(([place, id]) => window.scriptedStick.connect(place, { id, shown: true }), [place, id]);
  const inUse = (page) => page.getByRole("status").filter({ hasText: /is connected and in use\. Move it/ });
  const chosen = (page, name) => page.getByRole("button", { name, pressed: true });

  test("is in use at once where it is the only one, moves the picture, and is told", async () => {
    const { page, assertClean, close } = await visit();
    await page.evaluate(() => {
      window.scriptedStick.connect(2, { id: "Lone stick" });
      return window.scriptedStick.press(2, 1);
    });
    await inUse(page).filter({ hasText: "Lone stick" }).waitFor();
    await chosen(page, /^Lone stick/).waitFor();
    await page.evaluate(() => window.scriptedStick.moveTo([0, -0.6], 0, 2));
    await page.getByText(/60\s% up/).waitFor();
    // A second one takes nothing over; when the first comes out, it stays chosen and is waited for.
    await show(page, 3, "Second stick");
    await page.getByRole("button", { name: /^Second stick/, pressed: false }).waitFor();
    await page.evaluate(() => window.scriptedStick.disconnect(2));
    await page.getByText(GONE).waitFor();
    assert.equal(await inUse(page).count(), 0);
    await page.getByRole("button", { name: /^Second stick/, pressed: false }).waitFor();
    await page.getByRole("button", { name: /^Second stick/ }).click();
    await chosen(page, /^Second stick/).waitFor();
    assert.equal(await inUse(page).count(), 0, "what is chosen by hand is not told");
    assertClean();
    await close();
  });

  test("is not taken where there are several, or where something is in use", async () => {
    const { page, assertClean, close } = await visit();
    await page.evaluate(() => {
      for (const place of [0, 1]) window.scriptedStick.connect(place, { id: `Stick ${place}`, shown: true });
    });
    await page.getByRole("button", { name: /^Stick 1/ }).waitFor();
    assert.equal(await page.getByRole("button", { pressed: true }).count(), 0);
    for (const own of [/^Practice stick/, /^Steady hand/]) {
      await page.getByRole("button", { name: own }).click();
      await chosen(page, own).waitFor();
      await page.evaluate(() => window.scriptedStick.disconnect(0));
      await page.getByRole("button", { name: /^Stick 0/ }).waitFor({ state: "detached" });
      await chosen(page, own).waitFor();
      await show(page, 0, "Stick 0");
      await page.getByRole("button", { name: /^Stick 0/ }).waitFor();
      await chosen(page, own).waitFor();
    }
    assert.equal(await inUse(page).count(), 0);
    assertClean();
    await close();
  });

  test("is not taken by a fitting that was recorded with another one", async () => {
    const { page, assertClean, close } = await visit();
    await openKept(page, address, { device: "Bench stick" });
    await page.evaluate(() => (location.hash = "#/stick"));
    await page.getByRole("heading", { name: "Which stick?" }).waitFor();
    await page.evaluate(() => {
      window.scriptedStick.connect(0, { id: "Another stick", axes: 2, buttons: 1, shown: true });
    });
    await page.getByRole("button", { name: /^Another stick/, pressed: false }).waitFor();
    await page.evaluate(() => {
      window.scriptedStick.disconnect(0);
      window.scriptedStick.connect(1, { id: "Bench stick", axes: 2, buttons: 1, shown: true });
    });
    await chosen(page, /^Bench stick/).waitFor();
    await inUse(page).waitFor();
    assertClean();
    await close();
  });
});
