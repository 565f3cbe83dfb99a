// A stick that goes in the middle of a push and comes back; a page out of sight; no interface; a
// stick's own stop; a device whose name is an attack.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, describe, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { assertHarmless, HOSTILE } from "../lib/hostile.mjs";
import { keptFile, openKept } from "../lib/kept-file.mjs";
import { sentence } from "../lib/person.mjs";
import { samplesOf } from "../lib/recording.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const WAYS = { right: [1, 0], left: [-1, 0], up: [0, -1], down: [0, 1] };

/** A visitor with a scripted stick at a place, its plan of three minutes chosen. */
async function withPlan(index = 1, wish = {}) {
  const someone = await visitor(browser, { address, scripts: [[scriptedPad, { period: 4 }]] });
  const { page } = someone;
  await page.goto(`${address}#/stick`);
  await page.getByRole("heading", { name: "Which stick?" }).waitFor();
  await page.evaluate(
    ([index, wish]) => {
      window.scriptedStick.connect(index, { noise: 0.001, ...wish });
      return window.scriptedStick.press(index, 0);
    },
    [index, wish],
  );
  await page.locator(".choices").first().getByRole("button").first().click();
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByRole("button", { name: /^3 minutes/ }).click();
  return someone;
}

const begin = async (page, task) => {
  await page.getByRole("button", { name: `Start: ${task}` }).click();
  await page.getByRole("button", { name: "Begin", exact: true }).click();
};

/** Which push of how many is asked now, by the line above the sentence. */
const pushNumber = async (page) =>
  Number((await page.locator(".step").textContent()).match(/push (\d+) of/)[1]);

/** Waits for a push to be asked, and gives where to. */
async function pushAsked(page) {
  await sentence(page).filter({ hasText: /^Push (right|left|up|down),/ }).waitFor();
  return WAYS[(await sentence(page).textContent()).match(/^Push (\w+),/)[1]];
}

/** Pushes out and back, as asked. */
async function push(page, index, reach = 0.6) {
  const [x, y] = await pushAsked(page);
  const moveTo = (to, time) =>
    page.evaluate((all) => window.scriptedStick.moveTo(...all), [to, time, index]);
  await moveTo([x * reach, y * reach], 400);
  await page.waitForTimeout(1000);
  await moveTo([0, 0], 400);
  await sentence(page).filter({ hasText: /^Good|^That is enough/ }).waitFor();
}

/** Everything kept of this fitting, as the file says it. */
async function saveFitting(page) {
  await page.evaluate(() => (location.hash = "#/hand-over"));
  await page.getByText(/^Kept in this browser at/).waitFor();
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the fitting with its recordings" }).click();
  return JSON.parse(await readFile(await (await download).path(), "utf8"));
}

// Side by side: each waits for its person most of the time.
describe("what may go wrong with a stick", { concurrency: 3 }, () => {
  for (const back of [1, 5]) {
    const where = back === 1 ? "in its place" : "in another place";
    test(`a stick unplugged in a push: told, kept, goes on when it is back ${where}`, { timeout: 120_000 }, async () => {
      const { page, assertClean, close } = await withPlan();
      await begin(page, "Reach");
      await push(page, 1);
      await push(page, 1);
      const [x, y] = await pushAsked(page);
      const before = await pushNumber(page);
      assert.equal(before, 3);
      // Gone while the stick is half-way out.
      await page.evaluate((to) => window.scriptedStick.moveTo(to, 300, 1), [x * 0.6, y * 0.6]);
      await page.waitForTimeout(400);
      await page.evaluate(() => window.scriptedStick.disconnect(1));
      await page.getByText("The stick is gone. What there is is kept").waitFor();
      assert.equal(await sentence(page).textContent(), "Resting.");
      // Time that passes now is nobody's.
      await page.waitForTimeout(1500);
      assert.equal(await pushNumber(page), before, "a push is not lost while the stick is gone");
      await page.evaluate((back) => {
        window.scriptedStick.connect(back, { noise: 0.001 });
        return window.scriptedStick.press(back, 0);
      }, back);
      // By itself, nobody presses anything.
      await page.getByText("The stick is gone").waitFor({ state: "detached" });
      await pushAsked(page);
      assert.equal(await pushNumber(page), before, "the same push is asked again");
      await push(page, back);
      await push(page, back);
      await page.keyboard.press("Escape");
      await page.getByRole("button", { name: "Stop this task and keep it" }).last().click();
      const saved = await saveFitting(page);
      const { record } = saved.tasks.at(-1).body;
      const done = record.repetitions.filter(({ outcome }) => outcome === "done");
      assert.equal(done.length, 4, `four pushes were whole: ${JSON.stringify(record.repetitions)}`);
      const paused = record.pauses.find(({ from_seconds, to_seconds }) => to_seconds - from_seconds > 1.4);
      assert.ok(paused, `the pause is in the record: ${JSON.stringify(record.pauses)}`);
      const inside = samplesOf(record.recording).filter(
        ({ arrival_seconds: at }) => at > paused.from_seconds + 0.05 && at < paused.to_seconds - 0.25,
      );
      assert.equal(inside.length, 0, "nothing is recorded while it is gone");
      assertClean();
      await close();
    });
  }

  test("a page out of sight pauses, and goes on only when somebody says so", { timeout: 90_000 }, async () => {
    const { page, assertClean, close } = await withPlan();
    await begin(page, "Quiet rest");
    await page.waitForTimeout(1000);
    const show = (state) =>
      page.evaluate((state) => {
        Object.defineProperty(document, "visibilityState", { configurable: true, get: () => state });
        Object.defineProperty(document, "hidden", { configurable: true, get: () => state === "hidden" });
        document.dispatchEvent(new Event("visibilitychange"));
      }, state);
    await show("hidden");
    await page.waitForTimeout(1500);
    await show("visible");
    await page.getByText("Paused while the page was out of sight.").waitFor();
    const progress = () => page.getByRole("progressbar").getAttribute("value").then(Number);
    const before = await progress();
    await page.waitForTimeout(1200);
    assert.equal(await progress(), before, "a pause records nothing");
    await page.getByRole("button", { name: "Go on", exact: true }).click();
    await page.waitForFunction((before) => document.querySelector("progress").value > before + 0.01, before);
    assertClean();
    await close();
  });

  test("a browser without the interface, and a page that may not use it, each say so", async () => {
    for (const [wish, told, not] of [
      [{ missing: true }, /This browser has no gamepad interface, so it cannot see a stick/, /not allowed/],
      [{ refused: true }, /This page is not allowed to see sticks: whoever serves or embeds it/, /no gamepad interface/],
    ]) {
      // Noted in the console on purpose.
      const allow = [/^console (warning|error): .*(gamepad|stick|Input)/i];
      const { page, assertClean, close } = await visitor(browser, { address, allow, scripts: [[scriptedPad, wish]] });
      await page.goto(`${address}#/stick`);
      await page.getByRole("status").filter({ hasText: told }).waitFor();
      assert.doesNotMatch(await page.getByRole("main").textContent(), not);
      // The rest of the page works without any stick.
      await page.getByRole("button", { name: /^Practice stick/ }).click();
      await page.getByRole("button", { name: "Go on to measuring" }).click();
      await page.getByRole("heading", { name: "How many minutes today?" }).waitFor();
      assertClean();
      await close();
    }
  });

  test("a button of the stick held for two seconds rests; a short press does not", { timeout: 90_000 }, async () => {
    const { page, assertClean, close } = await withPlan();
    await begin(page, "Quiet rest");
    const rest = page.getByRole("dialog", { name: "Rest. Nothing is lost." });
    await page.evaluate(() => window.scriptedStick.press(1, 2, 700));
    await page.waitForTimeout(2000);
    assert.equal(await rest.count(), 0, "a short press is no stop");
    const pressed = page.evaluate(() => window.scriptedStick.press(1, 2, 3500));
    await rest.waitFor();
    await pressed;
    await page.getByRole("button", { name: "Go on", exact: true }).last().click();
    await rest.waitFor({ state: "hidden" });
    assert.match(await sentence(page).textContent(), /^Rest on the stick/);
    assertClean();
    await close();
  });

  test("a hostile device name is text, cut and without control characters", { timeout: 120_000 }, async () => {
    const { page, assertClean, close } = await visitor(browser, {
      address,
      size: { width: 390, height: 844 },
      scripts: [[scriptedPad, { period: 4 }]],
    });
    await page.goto(`${address}#/stick`);
    await page.getByRole("heading", { name: "Which stick?" }).waitFor();
    await page.evaluate((id) => {
      window.scriptedStick.connect(0, { id, noise: 0.004 });
      return window.scriptedStick.press(0, 0);
    }, HOSTILE);
    const choice = page.locator(".choices").first().getByRole("button").first();
    await choice.waitFor();
    assert.match(await choice.textContent(), /<img src=x/, "shown as it reads");
    await assertHarmless(page, "stick");
    await choice.click();
    await page.getByRole("button", { name: "Go on to measuring" }).click();
    await page.getByRole("button", { name: /^3 minutes/ }).click();
    await begin(page, "Hands off");
    await sentence(page).filter({ hasText: /^That is enough/ }).waitFor();
    await assertHarmless(page, "task");
    await page.getByRole("button", { name: /^Next: / }).click();
    for (const [screen, settled] of [
      ["settings", page.getByRole("heading", { name: "Settings to try" })],
      ["summary", page.getByRole("article")],
      ["loan-card", page.getByRole("article")],
      ["hand-over", page.getByRole("button", { name: "Make a link" })],
      ["kept", page.getByRole("button", { name: /^Open: / })],
    ]) {
      await page.evaluate((screen) => (location.hash = `#/${screen}`), screen);
      await settled.waitFor();
      await assertHarmless(page, screen);
      if (["summary", "loan-card"].includes(screen)) {
        assert.match(await page.getByRole("article").textContent(), /<img src=x/);
      }
      if (screen === "hand-over") {
        await page.getByRole("button", { name: "Make a link" }).click();
        const link = await page.getByRole("textbox", { name: "The link" }).inputValue();
        assert.ok(link.length - address.length + 100 <= 2000, `${link.length} characters`);
        const second = await visitor(browser, { address });
        await second.page.goto(link);
        await second.page.getByRole("article").waitFor();
        await assertHarmless(second.page, "shared");
        second.assertClean();
        await second.close();
      }
    }
    assertClean();
    await close();
  });

  test("a label from a file that is markup is text", async () => {
    const { page, assertClean, close } = await visitor(browser, { address });
    const label = '<img src=x onerror="window.hurt=1">';
    assert.match(await keptFile({ label }), /onerror/);
    await openKept(page, address, { label });
    await page.evaluate(() => (location.hash = "#/hand-over"));
    await page.getByRole("heading", { name: label }).waitFor();
    await assertHarmless(page, "hand-over");
    await page.evaluate(() => (location.hash = "#/kept"));
    await page.getByRole("button", { name: `Delete: ${label}` }).click();
    await page.getByText(`Deleted: ${label}.`).waitFor();
    await assertHarmless(page, "what was deleted");
    assertClean();
    await close();
  });
});
