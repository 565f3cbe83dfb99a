// The tasks outside the shortest plan: longer holds with how hard they were, the way back, presses,
// free movement, busy rest; and what comes of them on the screens and in the summary.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, describe, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { launch, visitor } from "../lib/browser.mjs";
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

/** Chooses a source and the shortest plan, and opens the list of further tasks. */
async function chooseMoreTasks(page, source) {
  await page.getByRole("button", { name: source }).click();
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByRole("button", { name: /^3 minutes/ }).click();
}

/** Starts one of the further tasks, whose list is folded away. */
async function start(page, task) {
  const button = page.getByRole("button", { name: `Start: ${task}`, exact: true });
  if (!(await button.isVisible())) await page.getByText("More tasks", { exact: true }).click();
  await button.click();
  await page.getByRole("button", { name: "Begin", exact: true }).click();
}

/** Leaves a finished task for the plan. */
async function finish(page) {
  await sentence(page).filter({ hasText: /^That is enough/ }).waitFor({ timeout: 200_000 });
  await page.getByRole("button", { name: /^Next: |^Done$/ }).click();
  // The next task of the plan waits; it is left for another day.
  await leaveWaiting(page);
}

async function summaryOf(page) {
  await page.evaluate(() => (location.hash = "#/hand-over"));
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the summary as a file" }).click();
  return JSON.parse(await readFile(await (await download).path(), "utf8"));
}

// Side by side: each waits for its person most of the time.
describe("further tasks", { concurrency: 2 }, () => {
  test("an invented person plays them by itself", { timeout: 480_000 }, async () => {
    const { page, assertClean, close } = await visitor(browser, { address });
    await page.goto(`${address}#/stick`);
    await chooseMoreTasks(page, /^Steady hand/);

    await start(page, "Longer hold");
    await finish(page);
    await start(page, "Return");
    await finish(page);
    await start(page, "Presses");
    await sentence(page).filter({ hasText: /^Button \d+: press/ }).waitFor({ timeout: 20_000 });
    await finish(page);

    await page.evaluate(() => (location.hash = "#/settings"));
    await page.getByRole("heading", { name: "Button timing" }).waitFor();
    for (const folded of ["The person’s movement", "Buttons"]) {
      await page.locator("summary", { hasText: folded }).first().click();
    }
    await page.getByText("Kept up to the right").waitFor();
    await page.getByText("Back from up", { exact: true }).waitFor();
    await page.getByText(/^Button 0: length of a press$/).waitFor();
    await assertAccessible(page, "settings with further tasks");
    assert.deepEqual(await pictures(page, "further-settings"), []);

    const { body } = await summaryOf(page);
    assert.deepEqual(body.sustained.map((hold) => hold.asked), ["right", "left"]);
    for (const hold of body.sustained) {
      // Fifteen seconds were asked for, and the person said how hard each was. On a busy machine the ring
      // is seen late, and the person may leave it before.
      assert.ok(hold.seconds >= 5 && hold.seconds <= 21, JSON.stringify(hold));
      assert.ok(hold.effort >= 1 && hold.effort <= 10, JSON.stringify(hold));
      // Half of half the travel was asked for, as no reach was known; the ring lets through ±0.1.
      assert.ok(Math.abs(hold.kept.known.value - 0.25) < 0.1, JSON.stringify(hold));
    }
    assert.deepEqual(body.returns.map((back) => back.asked), ["right", "up", "left", "down"]);
    for (const back of body.returns) {
      assert.ok(back.time.known.value > 0.2 && back.time.known.value < 2, JSON.stringify(back));
    }
    assert.ok(body.buttons.length >= 1);
    for (const button of body.buttons) {
      assert.equal(button.made + button.missed, 9, JSON.stringify(button));
      // A busy machine shows a cue late, and the person then misses it.
      assert.ok(button.made >= 5, JSON.stringify(button));
      const length = button.length.known;
      assert.ok(!length || (length.value > 0.03 && length.value < 1), JSON.stringify(button));
    }
    assertClean();
    await close();
  });

  test("how hard a hold was is said by keyboard, without hurry", { timeout: 240_000 }, async () => {
    const { page, assertClean, close } = await visitor(browser, {
      address,
      scripts: [[scriptedPad, { period: 4 }]],
    });
    await page.goto(`${address}#/stick`);
    await page.evaluate(() => {
      window.scriptedStick.connect(0, { axes: 2, buttons: 2, noise: 0.002 });
      return window.scriptedStick.press(0, 0);
    });
    await page.getByRole("button", { name: /^Scripted stick/ }).click();
    await page.getByRole("button", { name: "Go on to measuring" }).click();
    await page.getByRole("heading", { level: 1 }).filter({ hasText: /minutes/ }).waitFor();

    // From here on by keyboard alone: the kind of stick, a plan, a task outside of it.
    const keys = keyboard(page);
    const choose = keys.use;
    await choose(/^What kind of stick/);
    await choose(/^Its directions are used as switches/, "Space");
    await assertAccessible(page, "kind of stick");
    assert.deepEqual(await pictures(page, "kind-of-stick"), []);
    await choose(/^Its directions are used as switches/, "Space");
    await choose(/^3 minutes/);
    await choose(/^More tasks/);
    await assertAccessible(page, "more tasks");
    assert.deepEqual(await pictures(page, "more-tasks"), []);
    await choose(/^Start: Longer hold/);
    await choose(/^Begin$/);

    const moveTo = (to) =>
      page.evaluate((all) => window.scriptedStick.moveTo(...all), [to, 300, 0]);
    for (const [side, effort] of [["right", 2], ["left", 7]]) {
      await sentence(page).filter({ hasText: /into the ring/ }).waitFor({ timeout: 20_000 });
      const text = await sentence(page).textContent();
      const way = /right/.test(text) ? 1 : -1;
      assert.ok(/right|left/.test(text), text);
      await moveTo([0.25 * way, 0]);
      await sentence(page).filter({ hasText: /^Stay in the ring/ }).waitFor();
      // A person who has enough presses the button or lets go: both end it without failing.
      await page.waitForTimeout(4000);
      if (side === "right") {
        await choose(/^That is enough$/);
        await moveTo([0, 0]);
      } else {
        await moveTo([0, 0]);
      }
      await sentence(page).filter({ hasText: /^How hard was that/ }).waitFor();
      if (side === "right") {
        await assertAccessible(page, "how hard");
        assert.deepEqual(await pictures(page, "how-hard"), []);
        // Nobody is hurried: the question stays.
        await page.waitForTimeout(3000);
        assert.match(await sentence(page).textContent(), /^How hard was that/);
      }
      const answer = page.getByRole("button", { name: `${effort} of 10`, exact: true });
      const box = await answer.boundingBox();
      assert.ok(box.width >= 44 && box.height >= 44, JSON.stringify(box));
      await choose(new RegExp(`^${effort} of 10$`));
    }
    await finish(page);

    // What the other tasks look like while they ask; leaving the screen keeps what there is.
    for (const [task, prompt, name] of [
      ["Presses", /^Button \d+: press/, "task-presses"],
      ["Free movement", /^Move any way/, "task-free"],
      ["Return", /into the ring/, "task-return"],
      ["Busy rest", /^Rest on the stick while talking/, "task-busy"],
    ]) {
      await start(page, task);
      await sentence(page).filter({ hasText: prompt }).waitFor({ timeout: 20_000 });
      await assertAccessible(page, name);
      assert.deepEqual(await pictures(page, name), []);
      await page.evaluate(() => (location.hash = "#/stick"));
      await page.getByRole("heading", { name: "Which stick?" }).waitFor();
      await page.evaluate(() => (location.hash = "#/measure"));
    }
    const { body } = await summaryOf(page);
    assert.deepEqual(
      body.sustained.map((hold) => hold.effort).sort(),
      [2, 7],
    );
    assertClean();
    await close();
  });
});
