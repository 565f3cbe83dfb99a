// One fitting in two windows of one browser: the second says so and can take it over; what the first
// had is kept, also of a running task, and it keeps nothing more.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { everythingKept } from "../lib/database.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { startPlan } from "../lib/practice.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const button = (page, name) => page.getByRole("button", { name, exact: true });

/** A second window of the same browser, on the list of what is kept. */
async function second(page) {
  const other = await page.context().newPage();
  await other.goto(`${address}#/kept`);
  await other.getByRole("button", { name: /^Open: / }).first().waitFor();
  return other;
}

test("a second window says that a fitting is open, takes it over, and gives it back", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  const other = await second(page);
  await other.getByRole("button", { name: /^Open: / }).first().click();
  const dialog = other.getByRole("dialog", { name: "This fitting is open in another window" });
  await dialog.waitFor();
  await assertAccessible(other, "open elsewhere");
  await dialog.getByRole("button", { name: "Leave it there" }).click();
  await dialog.waitFor({ state: "hidden" });
  assert.equal(await page.getByRole("alert").filter({ hasText: "goes on in another window" }).count(), 0);

  // It cannot be deleted under the hands of whoever uses it.
  await other.getByRole("button", { name: /^Delete: / }).first().click();
  await other.getByText("This fitting is open in another window. Close it there first.").waitFor();

  // What the first window changed last is in what the second one takes over.
  await page.evaluate(() => (location.hash = "#/ready"));
  await page.getByRole("textbox", { name: /name|call/i }).first().fill("Changed in the first window");
  await page.keyboard.press("Tab");
  await other.getByRole("button", { name: /^Open: / }).first().click();
  await dialog.getByRole("button", { name: "Use it here" }).click();
  await other.waitForFunction(() => location.hash === "#/settings");
  await other.evaluate(() => (location.hash = "#/ready"));
  assert.equal(
    await other.getByRole("textbox", { name: /name|call/i }).first().inputValue(),
    "Changed in the first window",
  );
  const alert = page.getByRole("alert").filter({ hasText: "goes on in another window" });
  await alert.waitFor();
  assert.deepEqual(await pictures(page, "taken-over"), []);
  await assertAccessible(page, "taken over");

  // What is typed in the first one now goes nowhere.
  await page.getByRole("textbox", { name: /name|call/i }).first().fill("Lost words");
  await page.keyboard.press("Tab");
  await page.waitForTimeout(300);
  await alert.getByRole("button", { name: "Use it here again" }).click();
  await page.waitForFunction(() => location.hash === "#/settings");
  await page.evaluate(() => (location.hash = "#/ready"));
  assert.equal(
    await page.getByRole("textbox", { name: /name|call/i }).first().inputValue(),
    "Changed in the first window",
  );
  await other.getByRole("alert").filter({ hasText: "goes on in another window" }).waitFor();
  assertClean();
  await close();
});

test("a window that does not answer loses its fitting, and everything deleted is told", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  // Deaf: it hears no other window, as one that hangs.
  await page.addInitScript(() => {
    if (location.hash === "#/kept") return;
    BroadcastChannel.prototype.addEventListener = () => {};
  });
  await openKept(page, address);
  await page.reload();
  await page.goto("about:blank");
  await page.goto(`${address}#/ready`);
  await page.evaluate(() => (location.hash = "#/kept"));
  await page.getByRole("button", { name: /^Open: / }).first().click();
  await page.waitForFunction(() => location.hash === "#/settings");
  const other = await second(page);
  await other.getByRole("button", { name: /^Open: / }).first().click();
  await other.getByRole("button", { name: "Use it here" }).click();
  await other.waitForFunction(() => location.hash === "#/settings", null, { timeout: 15_000 });
  await page.getByRole("alert").filter({ hasText: "goes on in another window" }).waitFor();
  // Deleted here: the other window, which would have asked for it again, knows.
  await page.evaluate(() => (location.hash = "#/kept"));
  await page.getByRole("button", { name: "Delete everything" }).first().click();
  await page.getByRole("dialog").getByRole("button", { name: "Delete everything" }).click();
  await other.getByRole("alert").filter({ hasText: "deleted in another window" }).waitFor();
  await other.evaluate(() => (location.hash = "#/ready"));
  await other.getByRole("textbox", { name: /name|call/i }).first().fill("Must not come back");
  await other.keyboard.press("Tab");
  await other.waitForTimeout(300);
  const { fittings } = await everythingKept(page);
  assert.equal(fittings.length, 0, "nothing is kept any more");
  assertClean();
  await close();
});

test("a task that runs in the first window is kept when the second takes over", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await startPlan(page, address, "Short to one side", 3);
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.waitForTimeout(2_500);
  const other = await second(page);
  await other.getByRole("button", { name: /^Open: / }).first().click();
  await other.getByRole("button", { name: "Use it here" }).click();
  await other.waitForFunction(() => ["#/settings", "#/ready"].includes(location.hash));
  await page.getByRole("alert").filter({ hasText: "goes on in another window" }).waitFor();
  const { tasks, running } = await everythingKept(other);
  assert.deepEqual([tasks.length, running.length], [1, 0]);
  const { record } = JSON.parse(tasks[0].json).body;
  const seconds = record.recording.polled.reduce((sum, span) => sum + span.to_seconds - span.from_seconds, 0);
  assert.ok(seconds > 2, `${seconds} s`);
  assertClean();
  await close();
});
