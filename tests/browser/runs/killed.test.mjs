// The browser is killed in the middle of a task, all its processes at once: at most a second of what
// was recorded is lost, nothing that was shown as kept, and the page opens again and offers it.

import assert from "node:assert/strict";
import { test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { goTo } from "../lib/cards.mjs";
import { beginTask, killedAt, openStick, profile, start } from "../lib/killed.mjs";

for (const seconds of [0.9, 2.7, 6.1]) {
  test(`killed ${seconds} s into a task`, { timeout: 180_000 }, async () => {
    const { ran, lost, tasks, line, asked } = await killedAt(await pageAddress(), seconds);
    console.log(`${lost.toFixed(2)} s of ${ran.toFixed(2)} s lost`);
    assert.ok(lost <= 1, `${lost.toFixed(2)} s of ${ran.toFixed(2)} s are lost`);
    assert.equal(tasks, 2, "the one that was shown as kept, and what is left of the other");
    assert.match(line, /recorded, Before the crash$/);
    assert.equal(asked, 0, "once kept, it is asked about no more");
  });
}

test("what a crash left can be thrown away, and another page's running task is left alone", { timeout: 180_000 }, async () => {
  const address = await pageAddress();
  const { folder, remove } = await profile();
  try {
    const first = await start(folder);
    await openStick(first.page, address);
    await goTo(first.page, "measure");
    await first.page.getByRole("button", { name: /^3 minutes/ }).click();
    await beginTask(first.page, /^Start: Hands off/);
    await first.page.waitForTimeout(2500);
    // A second page beside it sees a running task, not an unfinished one.
    const beside = await first.page.context().newPage();
    await beside.goto(`${address}#/ready`);
    await beside.getByText("Set-up").first().waitFor();
    await beside.waitForTimeout(1000);
    const title = (page) => page.getByRole("heading", { name: "A task was not finished" });
    assert.equal(await title(beside).count(), 0);
    await first.kill();

    const second = await start(folder);
    await second.page.goto(`${address}#/kept`);
    await second.page.getByRole("button", { name: /^Throw it away/ }).click();
    await title(second.page).waitFor({ state: "detached" });
    await second.page.reload();
    await second.page.getByRole("button", { name: /^Open: / }).first().waitFor();
    assert.equal(await title(second.page).count(), 0);
    await second.kill();
  } finally {
    await remove();
  }
});
