// Nothing that was recorded is lost, and nothing that was deleted comes back: with a full storage, without
// locks, after a crash, in an older version of the page, and when two things happen at once.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, until, visitor } from "../lib/browser.mjs";
import { changeKept, everythingKept, holdDatabase } from "../lib/database.mjs";
import { keptFile, openKept } from "../lib/kept-file.mjs";
import { sentence } from "../lib/person.mjs";
import { startPlan } from "../lib/practice.mjs";
import { pictures } from "../lib/screens.mjs";
import { heard, quiet, spoiler } from "../lib/spoiler.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const go = (page, to) => page.evaluate((to) => (location.hash = to), `#/${to}`);
const LABEL = { name: "A name for this fitting" };

test("full: what is not kept yet makes no room for another fitting", { timeout: 180_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.addInitScript(spoiler);
  await openKept(page, address);
  await startPlan(page, address, "Short to one side", 3);
  await page.evaluate(() => Object.assign(window.storageCalls, { full: true, how: "QuotaExceededError" }));
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await sentence(page).filter({ hasText: /^That is enough/ }).waitFor({ timeout: 60_000 });
  await page.getByRole("button", { name: /^Next: / }).click();
  await page.getByText("The browser’s storage is full.").waitFor();
  assert.ok(await heard(page));
  await go(page, "kept");
  await page.getByRole("button", { name: /^Open: Bench/ }).click();
  await page.getByText("The browser could not keep the last change.").waitFor();
  assert.ok(await heard(page));
  // It is still the open one, with its recording.
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the fitting with its recordings" }).first().click();
  const { tasks } = JSON.parse(await readFile(await (await download).path(), "utf8"));
  assert.equal(tasks.length, 1);
  // With room again it is kept first, then the other one opens.
  await page.evaluate(() => (window.storageCalls.full = false));
  await page.getByRole("button", { name: /^Open: Bench/ }).click();
  await until(page, () => location.hash === "#/settings");
  assert.equal((await everythingKept(page)).tasks.length, 5);
  assertClean();
  await close();
});

test("without Web Locks everything is kept, opened, and offered after a crash", { timeout: 120_000 }, async () => {
  const without = () => delete Navigator.prototype.locks;
  const { page, assertClean, close } = await visitor(browser, { address, scripts: [[without]] });
  await openKept(page, address);
  assert.equal(await page.evaluate(() => typeof navigator.locks), "undefined");
  await go(page, "hand-over");
  await page.getByText(/Kept in this browser at/).waitFor();
  await startPlan(page, address, "Short to one side", 3);
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  for (let rows = 0; rows < 4; rows = (await everythingKept(page)).running.length) await page.waitForTimeout(50);
  await page.goto("about:blank");
  await page.goto(`${address}#/ready`);
  await page.getByRole("heading", { name: "A task was not finished" }).waitFor();
  await page.getByRole("button", { name: /^Keep it and go on/ }).click();
  await until(page, () => location.hash === "#/measure");
  assert.equal((await everythingKept(page)).tasks.length, 5);
  assertClean();
  await close();
});

test("a running task of a newer form is set aside, saved in the file, and offered once it can be read", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  await startPlan(page, address, "Short to one side", 3);
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  for (let rows = 0; rows < 4; rows = (await everythingKept(page)).running.length) await page.waitForTimeout(50);
  await page.goto("about:blank");
  await page.goto(`${address}manifest.webmanifest`);
  const left = (await everythingKept(page)).running;
  const head = left.find(({ id }) => !id.includes("/"));
  const schema = JSON.parse(head.json).schema;
  const newer = { ...head, json: head.json.replace(`"schema":${schema}`, '"schema":99') };
  assert.notEqual(newer.json, head.json);
  await changeKept(page, { put: { running: [newer] } });

  await page.goto(`${address}#/kept`);
  const dialog = page.getByRole("dialog", { name: "Something needs your attention" });
  await dialog.getByText("It was set aside, not deleted").waitFor();
  await dialog.getByRole("button", { name: "Close" }).click();
  assert.equal(await page.getByRole("heading", { name: "A task was not finished" }).count(), 0);
  const after = await everythingKept(page);
  assert.equal(after.running.length, 0);
  const aside = left.map((row) => (row.id === head.id ? newer : row)).map((row) => ({ ...row, id: `running:${row.id}` }));
  assert.deepEqual(after.set_aside, aside, "to the last letter");
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save everything as a file" }).click();
  const path = await (await download).path();
  assert.deepEqual(JSON.parse(await readFile(path, "utf8")).set_aside, aside);

  // A page that can read it offers it.
  const again = { ...head, id: `running:${head.id}` };
  await page.goto("about:blank");
  await page.goto(`${address}manifest.webmanifest`);
  await changeKept(page, { put: { set_aside: [again] } });
  await page.goto(`${address}#/ready`);
  await page.getByRole("heading", { name: "A task was not finished" }).waitFor();
  assert.equal((await everythingKept(page)).set_aside.length, 0);
  assertClean();
  await close();
});

/**
 * A fitting of which a change could not be kept, and whose recordings were then cleared behind the page's
 * back; it is shown where `screen` says. Gives what was kept before.
 */
async function cleared(page, screen) {
  // Many recordings, so that keeping them anew takes its time.
  const file = JSON.parse(await keptFile());
  const more = [1, 2, 3].flatMap((time) => file.tasks.map((task) => {
    const order = task.body.order + 4 * time;
    return { ...task, id: `${task.id}-${time}`, body: { ...task.body, order } };
  }));
  file.tasks.push(...more);
  await go(page, "kept");
  const buffer = Buffer.from(JSON.stringify(file));
  await page.locator("#file").setInputFiles({ name: "kept.json", mimeType: "application/json", buffer });
  await page.getByRole("button", { name: /^Open: Bench/ }).click();
  await until(page, () => location.hash === "#/settings");
  const before = await everythingKept(page);
  assert.equal(before.tasks.length, 16);
  await go(page, "ready");
  await page.evaluate(() => Object.assign(window.storageCalls, { full: true, how: "QuotaExceededError" }));
  await page.getByRole("textbox", LABEL).fill("Changed");
  await page.keyboard.press("Tab");
  await page.getByText("The browser’s storage is full.").waitFor();
  assert.ok(await heard(page));
  await go(page, screen);
  await changeKept(page, { out: { tasks: before.tasks.map(({ id }) => id) } });
  return before;
}

/** Keeps it again, with room; as soon as a row goes into the table, presses the button of this name. */
async function keepAnd(page, table, name) {
  await page.getByRole("button", { name: new RegExp(`^${name}`) }).waitFor();
  await page.evaluate(([table, name]) => {
    window.storageCalls.full = false;
    const real = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = function (...given) {
      if (this.name === table) {
        IDBObjectStore.prototype.put = real;
        const called = (one) => (one.ariaLabel ?? one.textContent).trim().startsWith(name);
        const button = [...document.querySelectorAll("main button")].find(called);
        setTimeout(() => button.click());
      }
      return real.apply(this, given);
    };
  }, [table, name]);
  await page.getByRole("button", { name: "Try to keep it again" }).click();
}

test("deleted while it is kept: it does not come back", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.addInitScript(spoiler);
  await page.goto(address);
  await cleared(page, "kept");
  await keepAnd(page, "tasks", "Delete: ");
  await page.getByRole("button", { name: "Put it back" }).waitFor();
  await quiet(page);
  const { fittings, tasks, running } = await everythingKept(page);
  assert.deepEqual([fittings, tasks, running], [[], [], []], "nothing of it is there");
  assertClean();
  await close();
});

test("another fitting begun while one is kept: all of that one is kept", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.addInitScript(spoiler);
  await page.goto(address);
  const before = await cleared(page, "stick");
  await keepAnd(page, "fittings", "Practice stick");
  await page.getByRole("button", { name: /^Practice stick/, pressed: true }).waitFor();
  await quiet(page);
  const { fittings, tasks } = await everythingKept(page);
  assert.equal(JSON.parse(fittings[0].json).body.label, "Changed");
  assert.deepEqual(tasks.map(({ id }) => id), before.tasks.map(({ id }) => id));
  assertClean();
  await close();
});

test("while the list is read nobody is told that nothing is kept", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  const { free } = await holdDatabase(page, address);
  await page.goto("about:blank");
  await page.goto(`${address}#/kept`);
  await page.getByText("Looking for saved fittings…").waitFor();
  assert.equal(await page.getByText("Nothing is kept yet.").count(), 0);
  assert.deepEqual(await pictures(page, "kept-loading"), []);
  await free();
  await page.getByRole("button", { name: /^Open: / }).waitFor();
  assert.equal(await page.getByText("Looking for saved fittings…").count(), 0);
  await page.getByRole("button", { name: /^Delete: / }).click();
  await page.getByText("Nothing is kept yet.").waitFor();
  assertClean();
  await close();
});
