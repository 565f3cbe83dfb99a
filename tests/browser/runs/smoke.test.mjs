// The page arrives, shows something before the program is there, keeps to itself, and leaves a way
// out when the program fails.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { startPlan } from "../lib/practice.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

/** Every file a first visit may ask for. */
const OWN_FILES = [
  /^$/,
  /^boot\.js$/,
  /^rescue\.js$/,
  /^offline\.js$/,
  /^sw\.js$/,
  /^changes\.json$/,
  /^page\.js$/,
  /^page_bg\.wasm$/,
  /^__wasm_split\.js$/,
  /^later-[0-9a-f]{16}\.wasm$/,
  /^styles\/[a-z-]+\.css$/,
  /^fonts\/atkinson-hyperlegible-latin-(400|700)-normal\.woff2$/,
  /^icons\/[a-z-]+\.svg$/,
  /^manifest\.webmanifest$/,
];

test("the program starts, under its policy, from its own files only", async () => {
  const { page, requests, assertClean, close } = await visitor(browser, { address });
  await page.goto(address);
  await page.locator("#app h1").first().waitFor();
  assert.match(await page.title(), /Stick Fitting Room/);
  await assert.doesNotReject(page.locator("#shell").waitFor({ state: "hidden" }));
  await page.waitForLoadState("networkidle");
  // The worker fetches every file once more, out of the browser's own cache: runs/offline.test.mjs.
  const asked = requests.filter(({ by }) => by === "page").map(({ url }) => url.replace(address, ""));
  for (const file of asked) {
    assert.ok(OWN_FILES.some((own) => own.test(file)), `asked for ${file}`);
  }
  for (const file of ["boot.js", "rescue.js", "page.js", "page_bg.wasm"]) {
    assert.equal(asked.filter((other) => other === file).length, 1, `${file} once`);
  }
  console.log(`requests of a first visit: ${asked.map((file) => file || "/").join(", ")}`);
  assertClean();
  await close();
});

test("the headers isolate the page and say no to what it does not need", async () => {
  const { page, close } = await visitor(browser, { address });
  const answer = await page.goto(address);
  const headers = answer.headers();
  assert.match(headers["content-security-policy"], /frame-ancestors 'none'/);
  assert.match(headers["permissions-policy"], /gamepad=\(self\).*camera=\(\)/);
  assert.equal(headers["x-content-type-options"], "nosniff");
  assert.equal(headers["referrer-policy"], "no-referrer");
  // Isolation gives the finer clock that timing rests on.
  assert.equal(await page.evaluate(() => crossOriginIsolated), true);
  await close();
});

test("without scripts the page says what it is and what it needs", async () => {
  const { page, assertClean, close } = await visitor(browser, {
    address,
    javaScriptEnabled: false,
    allow: [/page\.js \(csp\)/], // the preload of a module that may not run
  });
  await page.goto(address);
  await page.getByRole("heading", { name: "Stick Fitting Room", level: 1 }).waitFor();
  await page.getByText("no medical device").waitFor();
  const plea = page.locator("noscript p");
  assert.ok(await plea.isVisible());
  assert.match(await plea.textContent(), /needs JavaScript and WebAssembly/);
  assertClean();
  await close();
});

test("a program that does not load leaves a plain page and a way out", async () => {
  const allow = [/page_bg\.wasm/, /404|status of|Failed to load resource|preload/i];
  const { page, context, assertClean, close } = await visitor(browser, { address, allow });
  await context.route("**/page_bg.wasm", (route) => route.fulfill({ status: 404, body: "gone" }));
  await page.goto(address);
  await page.getByRole("heading", { name: "The program could not start" }).waitFor();
  await page.getByRole("button", { name: "Reload" }).waitFor();
  await page.getByRole("button", { name: "Save everything kept in this browser" }).click();
  await page.getByText("Nothing is kept in this browser").waitFor();
  const databases = await page.evaluate(() => indexedDB.databases());
  assert.deepEqual(databases, [], "looking for kept data makes no empty store");
  await assertAccessible(page, "the page that could not start");
  assertClean();
  await close();
});

test("a browser without WebAssembly is told so", async () => {
  const noWasm = () => delete globalThis.WebAssembly;
  const { page, close } = await visitor(browser, { address, scripts: [[noWasm]] });
  await page.goto(address);
  await page.getByRole("heading", { name: "This browser cannot run the page" }).waitFor();
  await close();
});

test("after a panic everything kept can be saved without the program", async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  // On a plain file of the same origin first: the store is filled while no program holds it.
  await page.goto(`${address}fonts/OFL.txt`);
  await page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const request = indexedDB.open("rescue-trial", 1);
        request.onupgradeneeded = () => request.result.createObjectStore("things");
        request.onsuccess = () => {
          const transaction = request.result.transaction("things", "readwrite");
          const store = transaction.objectStore("things");
          store.put({ label: "<b>Ann</b>", at: new Date(0), peak: -Infinity }, "one");
          store.put(new Uint8Array([0, 1, 254, 255]), 2);
          transaction.oncomplete = () => {
            request.result.close();
            resolve();
          };
          transaction.onerror = reject;
        };
      }),
  );
  await page.goto(address);
  await page.locator("#app h1").first().waitFor();
  await page.evaluate(() => {
    // The script looks for the program's own store; here it is led to the one filled above. It asks for
    // no version: the program, which may only be opening its store now, does.
    const open = indexedDB.open.bind(indexedDB);
    indexedDB.open = (name, version) =>
      version === undefined ? open("rescue-trial") : open(name, version);
    const detail = "panicked at <img src=x onerror=alert(1)>";
    window.dispatchEvent(new CustomEvent("fitting-room:panic", { detail }));
  });
  const heading = page.getByRole("heading", { name: "The program has stopped", level: 1 });
  await heading.waitFor();
  assert.ok(await heading.evaluate((element) => element === document.activeElement));
  assert.equal(await page.locator("#rescue img").count(), 0, "a message is never markup");
  await page.getByRole("heading", { name: "What is safe" }).waitFor();
  await assertAccessible(page, "the panic page");

  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save everything kept in this browser" }).click();
  const file = await download;
  assert.match(file.suggestedFilename(), /^stick-fitting-room-rescue-\d{4}-\d\d-\d\d\.json$/);
  const saved = JSON.parse(await readFile(await file.path(), "utf8"));
  assert.equal(saved.kind, "rescue");
  assert.equal(saved.schema, 1);
  assert.deepEqual(saved.stores, {
    things: [
      { key: 2, value: { $bytes: "AAH+/w==", $type: "Uint8Array" } },
      {
        key: "one",
        value: {
          label: "<b>Ann</b>",
          at: { $date: "1970-01-01T00:00:00.000Z" },
          peak: { $number: "-Infinity" },
        },
      },
    ],
  });
  await page.getByText("Saved 2 kept things as a file.").waitFor();

  await Promise.all([
    page.waitForEvent("load"),
    page.getByRole("button", { name: "Reload" }).click(),
  ]);
  await page.locator("#app h1").first().waitFor();
  assertClean();
  await close();
});

test("a running task and an open window give way to the message that the program has stopped", { timeout: 60_000 }, async () => {
  const { page, close } = await visitor(browser, { address });
  await startPlan(page, address, "Steady hand", 3);
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.locator(".measuring").waitFor();
  await page.keyboard.press("Escape");
  await page.getByRole("dialog", { name: "Rest. Nothing is lost." }).waitFor();
  await page.evaluate(() =>
    window.dispatchEvent(new CustomEvent("fitting-room:panic", { detail: "panicked" })),
  );
  await page.getByRole("heading", { name: "The program has stopped", level: 1 }).waitFor();
  const seen = await page.evaluate(() => document.body.innerText);
  assert.doesNotMatch(seen, /Hands off|Rest\. Nothing is lost|Stop this task/);
  assert.equal(await page.getByRole("main").count(), 1);
  // Within reach, although a window that keeps everything else out was open.
  await page.getByRole("button", { name: "Save everything kept in this browser" }).click();
  await page.getByRole("status").filter({ hasText: /^(Saved|Nothing is kept)/ }).waitFor();
  await close();
});

test("what is marked hidden is hidden, however it is laid out", async () => {
  const { page, close } = await visitor(browser, { address });
  await startPlan(page, address, "Steady hand", 3);
  const shown = await page.evaluate(() => {
    const laidOut = [...document.querySelectorAll("#app, #app *")];
    for (const one of laidOut) one.setAttribute("hidden", "");
    return laidOut.filter((one) => getComputedStyle(one).display !== "none").map((one) => one.outerHTML.slice(0, 80));
  });
  assert.deepEqual(shown, []);
  await close();
});

test("a trap without a panic message is caught too", async () => {
  const { page, close } = await visitor(browser, { address, allow: [/uncaught error/] });
  await page.goto(address);
  await page.locator("#app h1").first().waitFor();
  await page.evaluate(() => {
    setTimeout(() => {
      throw new WebAssembly.RuntimeError("unreachable");
    }, 0);
  });
  await page.getByRole("heading", { name: "The program has stopped" }).waitFor();
  await close();
});
