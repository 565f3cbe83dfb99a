// What is kept is kept apart, and called kept only where it is.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { everythingKept } from "../lib/database.mjs";
import { keptFile, openKept } from "../lib/kept-file.mjs";
import { startPlan, watchTask } from "../lib/practice.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

test("a reopened fitting goes on with its own stick and no other", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await startPlan(page, address, "Steady hand", 3);
  await watchTask(page);

  await page.goto(`${address}#/kept`);
  await page.reload();
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.getByRole("heading", { name: "Settings to try" }).waitFor();
  // Without its stick: what there is and how to go on, nothing dead.
  const way = page.getByRole("navigation").first();
  await way.getByRole("link", { name: "Stick (done)" }).waitFor();
  await way.getByRole("link", { name: /^Measure/ }).click();
  await page.getByRole("heading", { name: "Choose “Steady hand” to go on" }).waitFor();
  await page.getByRole("listitem").filter({ hasText: /^Hands off .*, done$/ }).waitFor();
  await page.getByText("What you have if you stop now").or(page.locator("ul.usable")).first().waitFor();
  await assertAccessible(page, "opened again, measure");
  assert.deepEqual(await pictures(page, "opened-measure"), []);
  await page.goto(`${address}#/try`);
  await page.getByText("To try the settings you need the stick.").waitFor();
  assert.equal(await page.getByRole("main").locator("svg").count(), 0, "no dead plots");
  await assertAccessible(page, "opened again, try");
  assert.deepEqual(await pictures(page, "opened-try"), []);
  await page.getByRole("main").getByRole("link", { name: "Choose a stick" }).click();
  await page.getByRole("button", { name: /^Steady hand/ }).waitFor();
  assert.equal(await page.getByRole("button", { pressed: true }).count(), 0, "no stick is chosen");

  // The same one goes on: what was measured stands.
  await page.getByRole("button", { name: /^Steady hand/ }).click();
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByText(/^What is kept of this fitting counts/).waitFor();

  // Reopened while another stick is in use, and measured with that one: not mixed.
  await page.goto(`${address}#/stick`);
  await page.getByRole("button", { name: /^Practice stick/ }).click();
  await page.goto(`${address}#/measure`);
  await page.getByRole("heading", { name: "How many minutes today?" }).waitFor();
  await page.goto(`${address}#/kept`);
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.getByRole("heading", { name: "Settings to try" }).waitFor();
  await page.goto(`${address}#/measure`);
  await page.getByRole("heading", { name: "Choose “Steady hand” to go on" }).waitFor();
  assertClean();
  await close();
});

test("a task stopped before anything counts is not done, and says when it was begun", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await startPlan(page, address, "Steady hand", 3);
  const begun = await page.evaluate(() => Date.now());
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.getByRole("button", { name: "Rest", exact: true }).click();
  // As if somebody had rested for a minute.
  await page.evaluate(() => {
    const now = Date.now.bind(Date);
    Date.now = () => now() + 60_000;
  });
  await page.getByRole("button", { name: "Stop this task and keep it" }).last().click();
  await page.getByRole("listitem").filter({ hasText: /^Hands off .*, stopped, nothing measured$/ }).waitFor();
  assert.equal(await page.locator("li.done").count(), 0);
  await page.getByRole("button", { name: "Start: Hands off" }).waitFor();
  const [task] = (await everythingKept(page)).tasks;
  const started = JSON.parse(task.json).body.started_epoch_ms;
  assert.ok(started >= begun && started < begun + 30_000, `${started - begun} ms after it was begun`);
  assertClean();
  await close();
});

test("a browser that keeps nothing is told so, and a file saves all", { timeout: 90_000 }, async () => {
  const without = () => Object.defineProperty(window, "indexedDB", { value: undefined });
  const { page, assertClean, close } = await visitor(browser, { address, scripts: [[without]] });
  await startPlan(page, address, "Steady hand", 3);
  await watchTask(page);
  const told = page.getByRole("dialog", { name: "Something needs your attention" });
  await told.getByText("This browser keeps nothing here").waitFor();
  await told.getByRole("button", { name: "Close" }).click();

  await page.goto(`${address}#/hand-over`);
  await page.getByText("This browser keeps nothing after the page is closed.").waitFor();
  assert.equal(await page.getByText(/^Kept in this browser at/).count(), 0);
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the fitting with its recordings" }).last().click();
  const saved = JSON.parse(await readFile(await (await download).path(), "utf8"));
  assert.equal(saved.tasks.length, 1);
  assertClean();
  await close();
});

test("a number shown is suggested, chosen by hand, or a dash", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  for (const button of await page.getByRole("button", { name: "All as suggested" }).all()) {
    await button.click();
  }
  const slider = page.getByRole("slider", { name: "Dead zone" });
  await slider.focus();
  await page.keyboard.press("ArrowRight");
  await page.getByText(/is the suggestion, \d+/).waitFor();
  await page.goto(`${address}#/summary`);
  const row = (name) => page.getByRole("row", { name: new RegExp(`^${name} `) }).first();
  assert.match(await row("Dead zone").textContent(), /by hand/);
  assert.doesNotMatch(await row("Full throw").textContent(), /by hand/);

  // Hands off alone suggests nothing.
  await startPlan(page, address, "Steady hand", 3);
  await watchTask(page);
  await page.goto(`${address}#/summary`);
  assert.match(await row("Dead zone").textContent(), /^Dead zone–not enough yet/);
  assert.match(await row("Full throw").textContent(), /^Full throw–not enough yet/);
  assertClean();
  await close();
});

/** Runs inside the page: the store takes its time to open. */
function opensLate(milliseconds) {
  const later = (heard) =>
    heard &&
    function (event) {
      setTimeout(() => heard.call(this, event), milliseconds);
    };
  const { get, set } = Object.getOwnPropertyDescriptor(IDBRequest.prototype, "onsuccess");
  Object.defineProperty(IDBOpenDBRequest.prototype, "onsuccess", {
    configurable: true,
    get,
    set(heard) {
      set.call(this, later(heard));
    },
  });
  const add = EventTarget.prototype.addEventListener;
  IDBOpenDBRequest.prototype.addEventListener = function (kind, heard, ...more) {
    return add.call(this, kind, kind === "success" ? later(heard) : heard, ...more);
  };
}

test("a file that is chosen before the store has opened is taken in once it has", { timeout: 60_000 }, async () => {
  const visit = await visitor(browser, { address, scripts: [[opensLate, 1_500]] });
  const { page, assertClean, close } = visit;
  await page.goto(`${address}#/kept`);
  await page.getByRole("heading", { name: "Kept fittings", level: 1 }).waitFor();
  await page.getByText("Looking for saved fittings").waitFor();
  const buffer = Buffer.from(await keptFile());
  await page.locator("#file").setInputFiles({ name: "kept.json", mimeType: "application/json", buffer });
  await page.getByText("1 fitting was added.").waitFor();
  await page.getByRole("button", { name: /^Open: / }).waitFor();
  assertClean();
  await close();
});
