// The browser's storage fails: at every call in turn, by itself, for good. Each time it is said, nothing
// that was shown as kept is lost, and what is in the page can be saved as a file.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, until, visitor } from "../lib/browser.mjs";
import { everythingKept } from "../lib/database.mjs";
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

/** A visit to everything that lies in the storage, with one fitting deleted and put back; what the page said. */
async function round(page, label) {
  let said = false;
  const look = async () => {
    await quiet(page);
    said = (await heard(page)) || said;
  };
  await go(page, "kept");
  await look();
  const gone = page.getByRole("button", { name: /^Delete: / });
  if (await gone.count()) {
    await gone.first().click();
    await look();
  }
  // Where it could not be put back it can still be: what was deleted is in the page.
  const back = page.getByRole("button", { name: "Put it back" });
  for (let time = 0; time < 3 && (await back.isVisible()); time += 1) {
    await back.click();
    await look();
  }
  const open = page.getByRole("button", { name: /^Open: / });
  if (await open.count()) {
    await open.first().click();
    await look();
  }
  await go(page, "ready");
  await look();
  await page.getByRole("textbox", LABEL).fill(label);
  await page.keyboard.press("Tab");
  await look();
  const failed = await page.getByText("The newest part is not kept").isVisible();
  await go(page, "hand-over");
  await look();
  const kept = await page.getByText(/Kept in this browser at/).isVisible();
  assert.ok(!(failed && kept), "never both");
  return { said, kept };
}

test("every call of the storage fails once: it is said, nothing kept is lost, all can be saved", { timeout: 300_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.addInitScript(spoiler);
  await openKept(page, address);
  const calls = async () => page.evaluate(() => window.storageCalls.count);
  const from = await calls();
  assert.deepEqual(await round(page, "No fault"), { said: false, kept: true });
  const most = (await calls()) - from;
  assert.ok(most >= 10, `${most} calls in one round`);
  const whole = (await everythingKept(page)).tasks.length;
  const seen = new Set();
  for (let place = 1; place <= most; place += 1) {
    const how = ["QuotaExceededError", "abort", "UnknownError"][place % 3];
    await page.reload();
    await quiet(page);
    const before = await everythingKept(page);
    await page.evaluate(([place, how]) => {
      Object.assign(window.storageCalls, { spoilAt: window.storageCalls.count + place, how });
    }, [place, how]);
    const label = `Fault ${place}`;
    const { said, kept } = await round(page, label);
    const spoilt = await page.evaluate(() => window.storageCalls.spoilt);
    // A fault early in the round may shorten it.
    if (!spoilt) continue;
    seen.add(spoilt);
    // A transaction that did not begin is begun once more, and of a look before a save nothing depends:
    // where all was kept all the same, which is held against the storage below, nothing needs saying.
    assert.ok(said || kept, `${how} at call ${place}, ${spoilt}: nothing was said`);
    // What is in the page can be saved, whatever the storage does.
    const save = page.getByRole("button", { name: "Save the fitting with its recordings" }).first();
    if (await save.isVisible()) {
      const download = page.waitForEvent("download");
      await save.click();
      const file = JSON.parse(await readFile(await (await download).path(), "utf8"));
      assert.equal(file.tasks.length, whole, `${how} at call ${place}: everything is in the file`);
    }
    const after = await everythingKept(page);
    assert.equal(after.tasks.length, before.tasks.length, `${how} at call ${place}: no recording is lost`);
    const labels = after.fittings.map(({ json }) => JSON.parse(json).body.label);
    if (kept) assert.ok(labels.includes(label), `${how} at call ${place}: it was shown as kept: ${labels}`);
  }
  assert.ok(seen.size >= 4, `${[...seen]}`);
  console.log(`# ${most} calls, faults at ${[...seen].join(", ")}`);
  assertClean();
  await close();
});

test("full in the middle of a task: it goes on, it is said, and the file has all of it", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.addInitScript(spoiler);
  await startPlan(page, address, "Short to one side", 3);
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.waitForTimeout(1_500);
  await page.evaluate(() => Object.assign(window.storageCalls, { full: true, how: "QuotaExceededError" }));
  await page.getByText("The newest part is not kept").waitFor();
  await sentence(page).filter({ hasText: /^That is enough/ }).waitFor({ timeout: 60_000 });
  await page.getByRole("button", { name: /^Next: / }).click();
  await page.getByText("The browser’s storage is full.").waitFor();
  assert.deepEqual(await pictures(page, "full"), []);
  assert.ok(await heard(page));
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the fitting with its recordings" }).first().click();
  const { tasks } = JSON.parse(await readFile(await (await download).path(), "utf8"));
  const { polled } = tasks[0].body.record.recording;
  const seconds = polled.reduce((sum, span) => sum + span.to_seconds - span.from_seconds, 0);
  assert.ok(seconds > 4, `${seconds} s`);
  // Room again: it is kept, and the notice goes.
  await page.evaluate(() => (window.storageCalls.full = false));
  await page.getByRole("button", { name: "Try to keep it again" }).click();
  await page.getByText("The newest part is not kept").waitFor({ state: "detached" });
  assert.equal((await everythingKept(page)).tasks.length, 1);
  assertClean();
  await close();
});

test("a storage that is off: everything works in memory, and a file is offered", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.addInitScript(() => {
    Object.defineProperty(window, "indexedDB", {
      get() {
        throw new DOMException("off", "SecurityError");
      },
    });
  });
  await page.goto(`${address}#/kept`);
  await page.getByText("This browser keeps nothing after the page is closed.").waitFor();
  await page.locator("#file").setInputFiles({
    name: "kept.json",
    mimeType: "application/json",
    buffer: Buffer.from(await keptFile()),
  });
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.getByText("unless you save it as a file").waitFor();
  assert.deepEqual(await pictures(page, "in-memory"), []);
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the fitting with its recordings" }).first().click();
  const file = JSON.parse(await readFile(await (await download).path(), "utf8"));
  assert.ok(file.tasks.length > 2);
  assertClean();
  await close();
});

test("storage laid out by a newer version is read, saved as a file, and not touched", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  await page.goto("about:blank");
  await page.goto(`${address}manifest.webmanifest`);
  await page.evaluate(
    () =>
      new Promise((done, failed) => {
        const request = indexedDB.open("stick-fitting-room", 99);
        request.onerror = () => failed(request.error);
        request.onupgradeneeded = () => request.result.createObjectStore("of_tomorrow");
        request.onsuccess = () => done(request.result.close());
      }),
  );
  const before = await everythingKept(page);
  await page.goto(`${address}#/kept`);
  const dialog = page.getByRole("dialog", { name: "Something needs your attention" });
  await dialog.getByText("A newer version of this page was used here").waitFor();
  await dialog.getByRole("button", { name: "Close" }).click();
  await page.getByRole("button", { name: /^Open: / }).waitFor();
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save everything as a file" }).click();
  const file = JSON.parse(await readFile(await (await download).path(), "utf8"));
  assert.equal(file.tasks.length, before.tasks.length);
  await page.getByRole("button", { name: /^Open: / }).click();
  await until(page, () => location.hash === "#/settings");
  await go(page, "ready");
  await page.getByRole("textbox", LABEL).fill("Not to be kept");
  await page.keyboard.press("Tab");
  await page.getByText("unless you save it as a file").waitFor();
  assert.deepEqual(await everythingKept(page), before, "to the last letter");
  assertClean();
  await close();
});

test("a fitting of a newer form is named, left alone, and saved as it stands", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  const json = JSON.stringify({ kind: "fitting", schema: 99, id: "tomorrow", body: { label: "<b>Of tomorrow</b>" } });
  await page.evaluate(
    (json) =>
      new Promise((done) => {
        const request = indexedDB.open("stick-fitting-room");
        request.onsuccess = () => {
          const transaction = request.result.transaction("fittings", "readwrite");
          transaction.objectStore("fittings").put({ id: "tomorrow", fitting: "tomorrow", json });
          transaction.oncomplete = () => done(request.result.close());
        };
      }),
    json,
  );
  await page.goto("about:blank");
  await page.goto(`${address}#/kept`);
  await page.getByText("<b>Of tomorrow</b>: made by a newer version of this page").waitFor();
  assert.deepEqual(await pictures(page, "newer"), []);
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save as a file: <b>Of tomorrow</b>" }).click();
  const file = JSON.parse(await readFile(await (await download).path(), "utf8"));
  assert.deepEqual(file.set_aside, [{ id: "fittings:tomorrow", fitting: "tomorrow", json }]);
  assertClean();
  await close();
});

test("cleared behind the page's back, everything it still has is kept anew", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  const before = await everythingKept(page);
  await page.evaluate(
    () =>
      new Promise((done) => {
        const request = indexedDB.deleteDatabase("stick-fitting-room");
        request.onsuccess = done;
      }),
  );
  await go(page, "ready");
  await page.getByRole("textbox", LABEL).fill("Still here");
  await page.keyboard.press("Tab");
  await go(page, "hand-over");
  await page.getByText(/Kept in this browser at/).waitFor();
  const after = await everythingKept(page);
  assert.equal(after.tasks.length, before.tasks.length);
  assertClean();
  await close();
});

test("how safe it is, is said, with a reminder when no file was saved for long", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  await go(page, "kept");
  await page.getByText(/The browser has (not )?promised/).waitFor();
  await page.getByText(/Taken: .*; left: .* [MG]B\./).waitFor();
  const reminder = page.getByText(/was last saved as a file \d+ days ago/);
  assert.equal(await reminder.count(), 0);
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save everything as a file" }).click();
  await download;
  await page.addInitScript(() => {
    const now = Date.now.bind(Date);
    Date.now = () => now() + 40 * 86_400_000;
  });
  await page.reload();
  await page.getByText("was last saved as a file 40 days ago").waitFor();
  assert.deepEqual(await pictures(page, "reminder"), []);
  const again = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save everything as a file" }).click();
  await again;
  await reminder.waitFor({ state: "detached" });
  assertClean();
  await close();
});
