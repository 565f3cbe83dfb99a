// After the first visit the page needs no network; a new version waits its turn; what is broken in
// the cache heals; a version taken in half is never used.

import assert from "node:assert/strict";
import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { after, afterEach, before, beforeEach, test } from "node:test";

import { assertAccessible } from "../lib/axe.mjs";
import { launch, until, visitor, worksOffline } from "../lib/browser.mjs";
import { buildCopy, host, listFiles, remove } from "../lib/host.mjs";
import { sentence } from "../lib/person.mjs";
import { startPlan, watchTask } from "../lib/practice.mjs";
import { pictures, SCREENS } from "../lib/screens.mjs";

/** What the second build says of itself. */
const NEWS = "The rings of the live view are easier to see.";
const GONE = [/ERR_INTERNET_DISCONNECTED|ERR_CONNECTION_(REFUSED|RESET)|ERR_EMPTY_RESPONSE|ERR_FAILED/];

let browser;
let first;
let second;
let served;
before(async () => {
  browser = await launch();
  [first, second] = [await buildCopy(), await buildCopy()];
  // Both by the same code that lists the files of every build.
  await listFiles(first);
  const list = JSON.parse(await readFile(join(second, "changes.json"), "utf8"));
  list.changes.unshift({ number: 1000, day: "2027-01-01", says: [NEWS] });
  await writeFile(join(second, "changes.json"), JSON.stringify(list));
  const style = join(second, "styles/base.css");
  await writeFile(style, `${await readFile(style, "utf8")}\n:root { --second-build: yes; }\n`);
  await listFiles(second);
});
after(async () => {
  await browser?.close();
  for (const folder of [first, second]) if (folder) await remove(folder);
});
beforeEach(async () => {
  served = await host(first);
});
afterEach(() => served.stop());

const heading = (page) => page.getByRole("main").getByRole("heading", { level: 1 });
const isDrawn = (page) => page.locator("#app h1").first().waitFor();

/** A first visit, waited for until everything is kept for use offline. */
async function visited(options = {}) {
  const visit = await visitor(browser, { address: served.address, ...options });
  await visit.page.goto(served.address);
  await isDrawn(visit.page);
  await worksOffline(visit.page);
  return visit;
}

/** The page anew, as somebody comes back to it. */
async function again(page) {
  await page.goto("about:blank");
  await page.goto(served.address);
  await isDrawn(page);
}

const update = (page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    return registration.update().then(
      () => "asked",
      (error) => error.name,
    );
  });

const waits = (page) =>
  until(page, async () => (await navigator.serviceWorker.ready).waiting?.state === "installed");

/** Waits until a version that was being taken in is given up, and none waits. */
async function isGivenUp(page) {
  await until(page, async () => {
    const { installing, waiting } = await navigator.serviceWorker.ready;
    return !installing && !waiting;
  });
}

const isSecond = (page) =>
  page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue("--second-build") === "yes");

/** Every file of this page's caches with its hash, one list for each cache. */
const keptFiles = (page) =>
  page.evaluate(async () => {
    const found = {};
    for (const name of await caches.keys()) {
      const cache = await caches.open(name);
      found[name] = {};
      for (const request of await cache.keys()) {
        const body = await (await cache.match(request)).arrayBuffer();
        const bytes = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
        const hash = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
        found[name][request.url.replace(location.origin, "")] = hash;
      }
    }
    return found;
  });

/** The list that is written into the worker of a build, as the cache has it when whole. */
async function listOf(folder) {
  const text = await readFile(join(folder, "sw.js"), "utf8");
  const list = JSON.parse(text.match(/^const FILES = (\{[^}]*\});$/m)[1]);
  return Object.fromEntries(
    Object.entries(list).map(([path, hash]) => [`/${path === "index.html" ? "" : path}`, hash]),
  );
}

async function assertKeptIs(page, folder) {
  const all = Object.values(await keptFiles(page));
  assert.equal(all.length, 1, "one cache");
  assert.deepEqual(all[0], await listOf(folder));
}

test("with the network off and the host gone every screen opens and a plan begins", { timeout: 120_000 }, async () => {
  const visit = await visited({ allow: GONE });
  const { page, context } = visit;
  await assertKeptIs(page, first);
  const asked = served.asked.length;
  await context.setOffline(true);
  await served.stop();
  await again(page);
  for (const name of SCREENS) {
    await page.goto(`${served.address}#/${name}`);
    await page.reload();
    await isDrawn(page);
    await page.getByText("the rest of the program is on its way").waitFor({ state: "detached" });
    await heading(page).waitFor();
    assert.equal(await page.getByText("could not be fetched").count(), 0, name);
  }
  assert.ok(await page.evaluate(() => document.fonts.check("16px 'Atkinson Hyperlegible'")), "its own typeface");
  await startPlan(page, served.address, "Steady hand", 3);
  await watchTask(page);
  assert.equal(served.asked.length, asked, "nothing reached the host");
  visit.assertClean();
  await visit.close();
  await served.start();
});

test("a new version waits for the end of a task, is taken up when asked, and says what changed", { timeout: 180_000 }, async () => {
  const visit = await visited();
  const { page } = visit;
  await again(page);
  assert.equal(await page.getByText("This page has changed").count(), 0, "a first visit has no news");
  await startPlan(page, served.address, "Steady hand", 3);
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.getByRole("button", { name: "Begin", exact: true }).waitFor({ state: "detached" });
  const field = page.locator(".field-first");
  const place = await field.boundingBox();

  served.folder = second;
  assert.equal(await update(page), "asked");
  await waits(page);
  const notice = page.getByRole("region", { name: "A new version of this page is there" });
  await notice.getByText(NEWS).waitFor();
  await notice.getByText("A task is running").waitFor();
  const button = notice.getByRole("button", { name: "Take it up now" });
  assert.ok(await button.isDisabled());
  assert.deepEqual(await field.boundingBox(), place, "the task does not move");
  assert.equal(await page.locator(".version").getAttribute("aria-live"), "off", "not read out now");
  await assertAccessible(page, "a task while a new version waits");
  assert.deepEqual(await pictures(page, "version-in-task"), []);
  assert.ok(!(await isSecond(page)));

  // The task goes on to its end, and is kept.
  await sentence(page).filter({ hasText: /^That is enough/ }).waitFor({ timeout: 60_000 });
  await page.getByRole("button", { name: /^Next: |^Done$/ }).click();
  await page.getByRole("button", { name: "Leave this task" }).click();
  await notice.getByText("A task is running").waitFor({ state: "detached" });
  await page.goto(`${served.address}#/settings`);
  await button.and(page.locator(":enabled")).waitFor();
  await assertAccessible(page, "a new version that waits");
  assert.deepEqual(await pictures(page, "version-waits"), []);
  assert.ok(!(await isSecond(page)), "nothing is taken up unasked");

  await Promise.all([page.waitForEvent("load"), button.click()]);
  await isDrawn(page);
  assert.ok(await isSecond(page));
  const news = page.getByRole("region", { name: "This page has changed since your last visit" });
  await news.getByText(NEWS).waitFor();
  await assertAccessible(page, "what changed");
  assert.deepEqual(await pictures(page, "version-changed"), []);
  await assertKeptIs(page, second);
  await news.getByRole("button", { name: "Close" }).click();
  await news.waitFor({ state: "detached" });
  await page.goto(`${served.address}#/kept`);
  await page.getByRole("button", { name: /^Open: / }).waitFor();

  // Read once, said once; and the new version works with no network.
  await served.stop();
  await again(page);
  await page.waitForTimeout(500);
  assert.equal(await news.count(), 0);
  assert.ok(await isSecond(page));
  visit.assertClean();
  await visit.close();
  await served.start();
});

test("a new version comes by itself once every window was closed", async () => {
  const visit = await visited();
  await again(visit.page);
  served.folder = second;
  await update(visit.page);
  await waits(visit.page);
  await visit.page.close();
  const page = await visit.context.newPage();
  // The browser has it take over when it sees that no window is left.
  for (const end = Date.now() + 10_000; ; await page.waitForTimeout(200)) {
    await again(page);
    if (await isSecond(page)) break;
    assert.ok(Date.now() < end, "still the old version");
    await page.goto("about:blank");
  }
  await page.getByText(NEWS).waitFor();
  visit.assertClean();
  await visit.close();
});

test("while another window has the page open it is not taken up", async () => {
  const visit = await visited();
  const other = await visit.context.newPage();
  await other.goto(served.address);
  await isDrawn(other);
  served.folder = second;
  await again(visit.page);
  await update(visit.page);
  await waits(visit.page);
  const button = visit.page.getByRole("button", { name: "Take it up now" });
  await button.click();
  await visit.page.getByText("open in another window or tab").waitFor();
  await waits(other);
  assert.ok(!(await isSecond(visit.page)) && !(await isSecond(other)));
  await other.close();
  await Promise.all([visit.page.waitForEvent("load"), button.click()]);
  await isDrawn(visit.page);
  assert.ok(await isSecond(visit.page));
  visit.assertClean();
  await visit.close();
});

/** Takes one file out of the cache and spoils another. */
const breakCache = (page, missing, spoilt) =>
  page.evaluate(
    async ([missing, spoilt]) => {
      const cache = await caches.open((await caches.keys())[0]);
      if (!(await cache.delete(missing))) throw new Error(`${missing} was not there`);
      if (!(await cache.match(spoilt))) throw new Error(`${spoilt} was not there`);
      await cache.put(spoilt, new Response("spoilt", { headers: { "content-type": "text/javascript" } }));
    },
    [missing, spoilt].map((path) => served.address + path),
  );

test("a missing and a spoilt file are fetched again", async () => {
  const visit = await visited();
  const { page } = visit;
  await breakCache(page, "page_bg.wasm", "page.js");
  await again(page);
  await assertKeptIs(page, first);
  // Whole again: nothing of it needs the host.
  await served.stop();
  await again(page);
  visit.assertClean();
  await visit.close();
  await served.start();
});

test("a cache thrown away by the browser is filled again", async () => {
  const visit = await visited();
  await visit.page.evaluate(async () => {
    for (const name of await caches.keys()) await caches.delete(name);
  });
  await again(visit.page);
  await assertKeptIs(visit.page, first);
  visit.assertClean();
  await visit.close();
});

test("a broken cache whose version the host has no more is given up for the network's", async () => {
  const visit = await visited();
  const { page } = visit;
  // The worker itself is not found anew, so that the old one has to help itself.
  served.folder = second;
  served.rule = (path) => (path === "sw.js" ? first : undefined);
  await breakCache(page, "styles/base.css", "page.js");
  // Nor does the browser have an old copy of its own.
  await (await visit.context.newCDPSession(page)).send("Network.clearBrowserCache");
  await again(page);
  assert.ok(await isSecond(page), "plainly from the network");
  served.rule = () => undefined;
  await again(page);
  // Nothing of the old version is left to wait for.
  for (const end = Date.now() + 10_000; ; await page.waitForTimeout(200)) {
    try {
      await assertKeptIs(page, second);
      break;
    } catch (error) {
      if (Date.now() > end) throw error;
    }
  }
  await served.stop();
  await again(page);
  assert.ok(await isSecond(page));
  await served.start();
  visit.assertClean();
  await visit.close();
});

test("a host that dies half-way through an update leaves the old version whole", async () => {
  const visit = await visited({ allow: GONE });
  const { page } = visit;
  await again(page);
  served.folder = second;
  // It gives the worker and the news, and dies at the style.
  served.rule = (path) => (path === "styles/base.css" ? "cut" : undefined);
  await update(page);
  await isGivenUp(page);
  assert.ok(served.asked.includes("styles/base.css"), "it was half-way");
  await served.stop();
  await again(page);
  assert.ok(!(await isSecond(page)));
  for (const name of ["settings", "kept"]) {
    await page.goto(`${served.address}#/${name}`);
    await heading(page).waitFor();
  }
  await served.start();
  served.rule = () => undefined;
  await update(page);
  await waits(page);
  visit.assertClean();
  await visit.close();
});

test("a host that has half of its files changed is not taken for a new version", async () => {
  const visit = await visited({ allow: GONE });
  const { page } = visit;
  served.rule = (path) => (path === "sw.js" ? second : undefined);
  await update(page);
  await isGivenUp(page);
  await again(page);
  assert.ok(!(await isSecond(page)));
  const whole = await listOf(first);
  const kept = Object.values(await keptFiles(page));
  const has = (files) => Object.entries(whole).every(([path, hash]) => files[path] === hash);
  assert.ok(kept.some(has), "the old version is whole");
  visit.assertClean();
  await visit.close();
});

test("a build with no list, as for development, takes the worker and its cache away", async () => {
  const visit = await visited();
  const { page } = visit;
  const bare = new URL("../../../public/", import.meta.url).pathname;
  served.folder = second;
  served.rule = (path) => (path === "sw.js" ? bare : undefined);
  await update(page);
  await until(page, async () => (await caches.keys()).length === 0);
  await again(page);
  assert.ok(await isSecond(page), "as the host has it");
  assert.deepEqual(await page.evaluate(() => caches.keys()), []);
  visit.assertClean();
  await visit.close();
});

test("beside another page of the same host it touches nothing of that", async () => {
  const visit = await visitor(browser, { address: served.address });
  const { page } = visit;
  await page.goto(`${served.address}fonts/OFL.txt`);
  await page.evaluate(async () => {
    const cache = await caches.open("somebody else's");
    await cache.put("/theirs", new Response("theirs"));
  });
  await page.goto(served.address);
  await worksOffline(page);
  served.folder = second;
  await again(page);
  await update(page);
  await waits(page);
  await Promise.all([
    page.waitForEvent("load"),
    page.getByRole("button", { name: "Take it up now" }).click(),
  ]);
  await isDrawn(page);
  const names = await page.evaluate(() => caches.keys());
  assert.equal(names.length, 2);
  assert.ok(names.includes("somebody else's"));
  // What is not of the list is the network's.
  const missing = await page.evaluate(async () => (await fetch("not-of-the-list.txt")).status);
  assert.equal(missing, 404);
  await visit.close();
});

for (const [name, script] of [
  ["missing", () => delete Navigator.prototype.serviceWorker],
  ["refused", () => {
    if (!globalThis.ServiceWorkerContainer) return; // an empty window
    const refuse = () => Promise.reject(new DOMException("not here", "SecurityError"));
    Object.defineProperty(ServiceWorkerContainer.prototype, "register", { value: refuse });
  }],
]) {
  test(`with workers ${name} everything works as before`, async () => {
    const visit = await visitor(browser, { address: served.address, scripts: [[script]] });
    const { page } = visit;
    await page.goto(served.address);
    await isDrawn(page);
    await page.waitForLoadState("networkidle");
    for (const name of ["stick", "measure", "kept"]) {
      await page.goto(`${served.address}#/${name}`);
      await heading(page).waitFor();
    }
    assert.deepEqual(await page.evaluate(() => caches.keys()), []);
    visit.assertClean();
    await visit.close();
  });
}
