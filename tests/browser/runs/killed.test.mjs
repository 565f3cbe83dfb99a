// The browser is killed in the middle of a task, all its processes at once: at most a second of what
// was recorded is lost, nothing that was shown as kept, and the page opens again and offers it.

import assert from "node:assert/strict";
import { test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { goTo } from "../lib/cards.mjs";
import { profile, start } from "../lib/killed.mjs";
import { sentence } from "../lib/person.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

/** How often it is killed: more in `cargo xtask prove kills`. */
const KILLS = Number(process.env.KILLS || 3);
/** The most of a recording that may be lost, seconds. */
const MOST_LOST = 1;

/** Moments of a task, seconds after it began, the same in each run: spread over its length. */
const moment = (number) => 1.5 + ((number * 0.618034) % 1) * 6;

/** What the page calls recorded: seconds in the line of an unfinished task. */
const seconds = (text) => {
  const [, minutes, rest] = text.match(/: (?:(\d+)\smin)?\s?(?:(\d+)\ss)? recorded/);
  return 60 * Number(minutes ?? 0) + Number(rest ?? 0);
};

async function openStick(page, address) {
  await page.goto(`${address}#/stick`);
  await page.evaluate(() => {
    window.scriptedStick.connect(0, { id: "Bench stick", axes: 2, buttons: 2, noise: 0.01 });
    return window.scriptedStick.press(0, 0);
  });
  await page.getByRole("button", { name: /^Bench stick/ }).click();
}

for (let number = 0; number < KILLS; number += 1) {
  test(`killed ${moment(number).toFixed(1)} s into a task`, { timeout: 180_000 }, async () => {
    const address = await pageAddress();
    const { folder, remove } = await profile();
    try {
      const scripts = [[scriptedPad, { period: 4 }]];
      const first = await start(folder, scripts);
      await openStick(first.page, address);
      await goTo(first.page, "ready");
      await first.page.getByRole("textbox", { name: "A name for this fitting" }).fill("Before the crash");
      await first.page.getByRole("textbox", { name: "A name for this fitting" }).press("Tab");
      // One task that is kept, and shown as kept.
      await goTo(first.page, "measure");
      await first.page.getByRole("button", { name: /^3 minutes/ }).click();
      await first.page.getByRole("button", { name: /^Start: Hands off/ }).click();
      await first.page.getByRole("button", { name: "Begin", exact: true }).click();
      await sentence(first.page).filter({ hasText: /^That is enough/ }).waitFor({ timeout: 60_000 });
      await first.page.getByRole("button", { name: /^(Next: |Done)/ }).click();
      await goTo(first.page, "hand-over");
      await first.page.getByText(/^Kept in this browser at/).waitFor();

      await goTo(first.page, "measure");
      await first.page.getByRole("button", { name: /^Start: / }).first().click();
      await first.page.getByRole("button", { name: "Begin", exact: true }).click();
      const began = Date.now();
      await first.page.waitForTimeout(moment(number) * 1000);
      const ran = (Date.now() - began) / 1000;
      await first.kill();

      const second = await start(folder, scripts);
      await second.page.goto(`${address}#/ready`);
      await second.page.getByRole("heading", { name: "A task was not finished" }).waitFor();
      const line = await second.page.locator("section[aria-labelledby=unfinished] strong").textContent();
      assert.match(line, /Before the crash/);
      // The line rounds to whole seconds.
      const lost = ran - seconds(line);
      assert.ok(lost < MOST_LOST + 0.5, `${lost.toFixed(2)} s of ${ran.toFixed(2)} s are lost: ${line}`);
      await second.page.getByRole("button", { name: /^Keep it and go on/ }).click();
      await second.page.waitForFunction(() => location.hash === "#/measure");
      await goTo(second.page, "set-up");
      await second.page.getByText("2 tasks were recorded", { exact: false }).waitFor();
      await goTo(second.page, "ready");
      assert.equal(await second.page.getByRole("heading", { name: "A task was not finished" }).count(), 0);
      await second.kill();
    } finally {
      await remove();
    }
  });
}

test("what a crash left can be thrown away, and another page's running task is left alone", { timeout: 180_000 }, async () => {
  const address = await pageAddress();
  const { folder, remove } = await profile();
  try {
    const scripts = [[scriptedPad, { period: 4 }]];
    const first = await start(folder, scripts);
    await openStick(first.page, address);
    await goTo(first.page, "measure");
    await first.page.getByRole("button", { name: /^3 minutes/ }).click();
    await first.page.getByRole("button", { name: /^Start: Hands off/ }).click();
    await first.page.getByRole("button", { name: "Begin", exact: true }).click();
    await first.page.waitForTimeout(2500);
    // A second page beside it sees a running task, not an unfinished one.
    const beside = await first.page.context().newPage();
    await beside.goto(`${address}#/ready`);
    await beside.getByText("Set-up").first().waitFor();
    await beside.waitForTimeout(1000);
    assert.equal(await beside.getByRole("heading", { name: "A task was not finished" }).count(), 0);
    await first.kill();

    const second = await start(folder, scripts);
    await second.page.goto(`${address}#/kept`);
    await second.page.getByRole("button", { name: /^Throw it away/ }).click();
    await second.page.getByRole("heading", { name: "A task was not finished" }).waitFor({ state: "detached" });
    await second.page.reload();
    await second.page.getByRole("button", { name: /^Open: / }).first().waitFor();
    assert.equal(await second.page.getByRole("heading", { name: "A task was not finished" }).count(), 0);
    await second.kill();
  } finally {
    await remove();
  }
});
