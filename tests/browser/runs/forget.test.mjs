// Deleting: gone from every storage at once, and put back as it stood; a counter fitting erases itself.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, until, visitor } from "../lib/browser.mjs";
import { everyText, everythingKept } from "../lib/database.mjs";
import { openCard } from "../lib/cards.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const button = (page, name) => page.getByRole("button", { name, exact: true });
const go = (page, to) => page.evaluate((to) => (location.hash = to), `#/${to}`);

test("a fitting is gone at once and comes back as it stood; so does one recording", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  await go(page, "kept");
  await page.getByRole("button", { name: /^Delete: / }).waitFor();
  const before = await everythingKept(page);
  assert.ok(before.tasks.length > 2);
  const name = JSON.parse(before.fittings[0].json).body.label;

  await page.getByText("Recordings", { exact: true }).click();
  const one = page.getByRole("button", { name: /^Delete: 2\. / });
  await one.waitFor();
  await assertAccessible(page, "recordings");
  assert.deepEqual(await pictures(page, "kept-recordings"), []);
  await one.click();
  await button(page, "Put it back").waitFor();
  assert.equal((await everythingKept(page)).tasks.length, before.tasks.length - 1);
  // The open fitting knows nothing of it any more either.
  await go(page, "details");
  const table = page.getByRole("region", { name: "Recordings, and what was left out" });
  assert.equal(await table.locator("tbody tr").count(), before.tasks.length - 1);
  await go(page, "kept");
  assert.equal(await button(page, "Put it back").count(), 0, "the way back ended with the screen");

  // By keyboard, with the focus never lost.
  const keys = keyboard(page);
  await page.keyboard.press("Tab");
  await keys.use(/^Delete: /);
  await button(page, "Put it back").waitFor();
  assert.deepEqual(await pictures(page, "kept-deleted"), []);
  await assertAccessible(page, "deleted");
  assert.ok(!(await everyText(page)).includes(name), "nothing of it lies in any storage");
  await keys.use(/^Put it back$/);
  await page.getByText("It is back.").waitFor();
  const back = await everythingKept(page);
  assert.equal(back.fittings.length, 1);
  assert.equal(back.tasks.length, before.tasks.length - 1);
  for (const task of back.tasks) {
    assert.ok(before.tasks.some((one) => one.id === task.id && one.json === task.json), "to the last letter");
  }

  await page.getByRole("button", { name: /^Delete: / }).first().click();
  await button(page, "Forget it now").click();
  await button(page, "Put it back").waitFor({ state: "detached" });
  await page.getByText("Nothing is kept").or(page.locator("p.notice")).first().waitFor();
  assertClean();
  await close();
});

/** Fittings that begin now are made at a counter. */
async function atCounter(page) {
  await page.goto(address);
  await page.getByText("At a counter", { exact: true }).click();
  await page.getByRole("checkbox", { name: "Erase each fitting when the visitor leaves" }).check();
}

/** Something is told, so that there is a fitting. */
async function begin(page, name) {
  await page.getByRole("textbox", { name: /name|call/i }).first().fill(name);
  const help = await openCard(page, "Who helps, and how");
  await help.getByRole("radio", { name: "somebody beside the player" }).check();
  await page.getByText("At a counter: this fitting is erased").waitFor();
  await until(page, async (name) => {
    const open = await new Promise((done) => {
      const request = indexedDB.open("stick-fitting-room");
      request.onsuccess = () => done(request.result);
    });
    const rows = await new Promise((done) => {
      const all = open.transaction("fittings").objectStore("fittings").getAll();
      all.onsuccess = () => done(all.result);
    });
    open.close();
    return rows.some((row) => row.json.includes(name));
  }, name);
}

test("a counter fitting erases itself when the visitor leaves, and when the next one begins", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await atCounter(page);
  assert.deepEqual(await pictures(page, "counter-choice"), []);
  await begin(page, "First visitor");
  await assertAccessible(page, "counter");
  await button(page, "Visitor leaves…").click();
  const dialog = page.getByRole("dialog", { name: "Erase this fitting?" });
  await dialog.waitFor();
  await page.screenshot({ path: "out/counter-erase.png" });
  await dialog.getByRole("button", { name: "Erase it now" }).click();
  await page.getByText("At a counter: this fitting is erased").waitFor({ state: "detached" });
  assert.ok(!(await everyText(page)).includes("First visitor"));

  // The choice holds for the next visitor; one that is not finished is offered after a crash.
  await page.reload();
  await begin(page, "Second visitor");
  await page.reload();
  await page.getByRole("heading", { name: "A counter fitting was left" }).waitFor();
  assert.deepEqual(await pictures(page, "counter-left"), []);
  await button(page, "Go on").click();
  await page.getByText("At a counter: this fitting is erased").waitFor();

  // Kept for good it is a fitting like any other.
  await button(page, "Visitor leaves…").click();
  await dialog.getByRole("button", { name: "Keep it for good" }).click();
  await page.getByText("At a counter: this fitting is erased").waitFor({ state: "detached" });
  const kept = await everythingKept(page);
  assert.equal(kept.fittings.length, 1);
  assert.ok(!kept.fittings[0].id.startsWith("counter-"));
  assertClean();
  await close();
});

test("a counter fitting that was left for long is erased at the next start, and that is said", { timeout: 60_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await atCounter(page);
  await begin(page, "Left behind");
  // An hour later.
  await page.addInitScript(() => {
    const now = Date.now.bind(Date);
    Date.now = () => now() + 3_600_000;
  });
  await page.reload();
  await page.getByText(/left for more than half an hour and is erased/).waitFor();
  assert.ok(!(await everyText(page)).includes("Left behind"));
  assertClean();
  await close();
});

test("a counter fitting ages from when it was last in use, not from when it began", { timeout: 60_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.addInitScript(() => {
    const now = Date.now.bind(Date);
    Date.now = () => now() + Number(localStorage.minutesLater ?? 0) * 60_000;
  });
  const later = (minutes) => page.evaluate((minutes) => (localStorage.minutesLater = minutes), minutes);
  await atCounter(page);
  await begin(page, "A long talk");
  // After forty minutes something is changed, and in the minute after that the page goes.
  await later(40);
  await page.getByRole("textbox", { name: /name|call/i }).first().fill("A longer talk");
  await page.keyboard.press("Tab");
  await until(page, () => Object.keys(localStorage).some((key) => key.includes("used-at") && localStorage[key] > Date.now() - 60_000));
  await later(41);
  await page.reload();
  await page.getByRole("heading", { name: "A counter fitting was left" }).waitFor();
  assert.equal((await everythingKept(page)).fittings.length, 1);
  // Nobody came for half an hour.
  await later(75);
  await page.reload();
  await page.getByText(/left for more than half an hour and is erased/).waitFor();
  assert.ok(!(await everyText(page)).includes("A longer talk"));
  assert.ok(!(await everyText(page)).includes("used-at"), "nor when it was in use");
  assertClean();
  await close();
});
