// Locked down: what the page may not do is refused, with headers and with the page's own policy
// alone; it can be installed; and when its program dies, what is kept comes out and back in.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { bareAddress, pageAddress } from "../lib/address.mjs";
import { launch, until, visitor, worksOffline } from "../lib/browser.mjs";
import { sentence } from "../lib/person.mjs";
import { startPlan, watchTask } from "../lib/practice.mjs";
import { SCREENS } from "../lib/screens.mjs";

let browser;
let withHeaders;
let bare;
before(async () => {
  [withHeaders, bare] = await Promise.all([pageAddress(), bareAddress()]);
  browser = await launch();
});
after(() => browser?.close());

const isDrawn = (page) => page.locator("#app h1").first().waitFor();

/**
 * Tries in the page what its policy forbids: which of it worked, and what was reported. It waits
 * first: what the driver evaluates at once may do more than the page's own scripts.
 */
async function tryForbidden() {
  await new Promise((done) => setTimeout(done, 50));
  const reported = new Set();
  document.addEventListener("securitypolicyviolation", (event) => {
    reported.add(event.effectiveDirective);
  });
  const elsewhere = "http://127.0.0.1:9/";
  window.worked = [];
  const put = (name, more) => document.body.append(Object.assign(document.createElement(name), more));
  const attempt = async (name, work) => {
    try {
      if ((await work()) !== false) window.worked.push(name);
    } catch {
      // refused
    }
  };
  const tells = (what) => URL.createObjectURL(new Blob([`window.worked.push("${what}")`]));
  put("script", { textContent: "window.worked.push('inline script')" });
  put("script", { src: "data:text/javascript,window.worked.push('data script')" });
  put("script", { src: tells("blob script") });
  put("script", { src: `${elsewhere}script.js` });
  put("img", { src: `${elsewhere}image.png` });
  put("iframe", { src: location.href });
  put("object", { data: location.href });
  put("link", { rel: "stylesheet", href: `${elsewhere}style.css` });
  put("style", { textContent: "#main { --inline: yes }" });
  put("button", { id: "with-handler" });
  const handler = document.getElementById("with-handler");
  handler.setAttribute("onclick", "window.worked.push('inline handler')");
  handler.click();
  put("form", { action: elsewhere });
  document.querySelector(`form[action="${elsewhere}"]`).submit();
  document.head.append(Object.assign(document.createElement("base"), { href: elsewhere }));
  await attempt("base", () => document.baseURI.startsWith(elsewhere));
  await attempt("eval", () => (0, eval)("true"));
  await attempt("Function", () => new Function("return true")());
  await attempt("text for a timer", () => new Promise((done) => {
    setTimeout("window.worked.push('timer')", 0);
    setTimeout(done, 50, false);
  }));
  await attempt("a worker of text", () => new Promise((done, refused) => {
    const worker = new Worker(URL.createObjectURL(new Blob(["postMessage(true)"])));
    worker.onmessage = () => done(true);
    worker.onerror = refused;
  }));
  await attempt("inline style", () => {
    return getComputedStyle(document.getElementById("main")).getPropertyValue("--inline") !== "";
  });
  await attempt("fetch", () => fetch(elsewhere).then(() => true));
  await new Promise((done) => setTimeout(done, 300));
  return { worked: window.worked, reported: [...reported].sort() };
}

for (const name of ["with headers", "with the page's own policy alone"]) {
  const address = () => (name === "with headers" ? withHeaders : bare);

  test(`${name}: what the policy forbids is refused and reported`, async () => {
    const visit = await visitor(browser, { address: address() });
    await visit.page.goto(address());
    await isDrawn(visit.page);
    visit.assertClean();
    const { worked, reported } = await visit.page.evaluate(tryForbidden);
    assert.deepEqual(worked, []);
    for (const directive of [
      ...["base-uri", "connect-src", "form-action", "img-src", "script-src", "script-src-attr"],
      ...["script-src-elem", "style-src-elem", "worker-src"],
    ]) {
      assert.ok(reported.includes(directive), `${directive} in ${reported}`);
    }
    const text = visit.problems.join("\n");
    assert.match(text, /policy violation: script-src/, "the harness sees it, too");
    assert.throws(() => visit.assertClean());
    const elsewhere = visit.requests.filter(({ url }) => url.startsWith("http://127.0.0.1:9/"));
    console.log(`${name}: reported ${reported.join(", ")}; tried elsewhere: ${elsewhere.length}`);
    await visit.close();
  });
}

test("with the page's own policy alone every screen opens and a plan runs", { timeout: 120_000 }, async () => {
  const visit = await visitor(browser, { address: bare });
  const { page } = visit;
  const answer = await page.goto(bare);
  for (const header of ["content-security-policy", "permissions-policy", "referrer-policy"]) {
    assert.equal(answer.headers()[header], undefined, header);
  }
  await isDrawn(page);
  assert.equal(await page.evaluate(() => crossOriginIsolated), false);
  for (const name of SCREENS) {
    await page.goto(`${bare}#/${name}`);
    await page.getByText("the rest of the program is on its way").waitFor({ state: "detached" });
    await sentence(page).waitFor();
  }
  await startPlan(page, bare, "Steady hand", 3);
  await watchTask(page);
  // From the worker's cache, too.
  await worksOffline(page);
  await page.reload();
  await isDrawn(page);
  await page.goto(`${bare}#/kept`);
  await page.getByRole("button", { name: /^Open: / }).waitFor();
  visit.assertClean();
  await visit.close();
});

test("with headers it is isolated, also out of the cache, and has devices and nothing else", async () => {
  const visit = await visitor(browser, { address: withHeaders });
  const { page, context } = visit;
  await page.goto(withHeaders);
  await isDrawn(page);
  await worksOffline(page);
  await context.setOffline(true);
  await page.reload();
  await isDrawn(page);
  const seen = await page.evaluate(() => ({
    controlled: navigator.serviceWorker.controller !== null,
    isolated: crossOriginIsolated,
    allowed: document.featurePolicy.allowedFeatures(),
    referrer: document.referrer,
  }));
  assert.ok(seen.controlled);
  assert.ok(seen.isolated);
  assert.equal(seen.referrer, "");
  for (const feature of ["gamepad", "hid"]) assert.ok(seen.allowed.includes(feature), feature);
  for (const feature of [
    ...["accelerometer", "camera", "display-capture", "geolocation", "gyroscope"],
    ...["microphone", "midi", "payment", "serial", "usb", "xr-spatial-tracking"],
  ]) {
    assert.ok(!seen.allowed.includes(feature), feature);
  }
  console.log(`allowed: ${seen.allowed.join(", ")}`);
  visit.assertClean();
  await visit.close();
});

test("it can be installed, and its icons are what the manifest says", async () => {
  const visit = await visitor(browser, { address: withHeaders });
  const { page, context } = visit;
  await page.goto(withHeaders);
  await isDrawn(page);
  const browserSays = await context.newCDPSession(page);
  const { url, errors, data } = await browserSays.send("Page.getAppManifest");
  assert.equal(url, `${withHeaders}manifest.webmanifest`);
  assert.deepEqual(errors, []);
  const manifest = JSON.parse(data);
  for (const key of ["name", "short_name", "background_color", "theme_color"]) assert.ok(manifest[key], key);
  assert.equal(manifest.display, "standalone");
  assert.equal(new URL(manifest.start_url, url).href, withHeaders);
  assert.equal(new URL(manifest.scope, url).href, withHeaders);
  for (const purpose of ["any", "maskable"]) {
    for (const size of ["any", "192x192", "512x512"]) {
      const found = manifest.icons.filter((icon) => icon.purpose === purpose && icon.sizes === size);
      assert.equal(found.length, 1, `${purpose} ${size}`);
    }
  }
  for (const { src, sizes, type } of manifest.icons) {
    const icon = await page.evaluate(async (address) => {
      const answer = await fetch(address);
      const image = new Image();
      image.src = address;
      await image.decode();
      return [answer.headers.get("content-type"), `${image.naturalWidth}x${image.naturalHeight}`];
    }, new URL(src, url).href);
    assert.deepEqual(icon, [type, sizes === "any" ? icon[1] : sizes], src);
  }
  const { installabilityErrors } = await browserSays.send("Page.getInstallabilityErrors");
  // Every profile of these runs is a private one, in which the browser installs nothing.
  const others = installabilityErrors.filter(({ errorId }) => errorId !== "in-incognito");
  assert.deepEqual(others, []);
  visit.assertClean();
  await visit.close();
});

/** Saves all that is kept by the panic page, and gives the file's path and content. */
async function rescue(page) {
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save everything kept in this browser" }).click();
  const path = await (await download).path();
  return { path, saved: JSON.parse(await readFile(path, "utf8")) };
}

/** A fitting of one task, kept under a label. */
async function keepOne(page, address, label) {
  await page.goto(address);
  await page.getByRole("textbox", { name: "A name for this fitting" }).fill(label);
  await startPlan(page, address, "Steady hand", 3);
  await watchTask(page);
  await page.goto(`${address}#/hand-over`);
  await page.getByText(/^Kept in this browser at/).waitFor();
}

/** What the rescue saved is taken in by a page that has nothing yet. */
async function takeIn(path, label) {
  const next = await visitor(browser, { address: withHeaders });
  await next.page.goto(`${withHeaders}#/kept`);
  // The store has to be open by then.
  await until(next.page, async () => (await indexedDB.databases()).length > 0);
  await next.page.locator("#file").setInputFiles(path);
  await next.page.getByText(/ fitting was added/).waitFor();
  await next.page.getByRole("button", { name: `Open: ${label}` }).click();
  await next.page.getByRole("heading", { name: "Settings to try" }).waitFor();
  next.assertClean();
  await next.close();
}

test("when the program dies what is kept is saved without it, and taken in elsewhere", { timeout: 120_000 }, async () => {
  const allow = [/uncaught error/, /RuntimeError|unreachable|memory access|panicked/i];
  const visit = await visitor(browser, { address: withHeaders, allow });
  const { page } = visit;
  await keepOne(page, withHeaders, "Before the end");
  // The program's own memory is spoilt under it: whatever it does next ends in a real trap.
  await page.evaluate(async () => {
    const program = await (await import("./page.js")).default();
    new Uint8Array(program.memory.buffer).fill(0xff);
    location.hash = "#/settings";
  });
  await page.getByRole("heading", { name: "The program has stopped" }).waitFor();
  const { path, saved } = await rescue(page);
  assert.equal(saved.stores.fittings.length, 1);
  assert.equal(saved.stores.tasks.length, 1);
  await takeIn(path, "Before the end");
  // And it is still there when the page is loaded anew.
  await Promise.all([page.waitForEvent("load"), page.getByRole("button", { name: "Reload" }).click()]);
  await page.goto(`${withHeaders}#/kept`);
  await page.getByRole("button", { name: "Open: Before the end" }).waitFor();
  visit.assertClean();
  await visit.close();
});

test("when the program does not come at all the same holds", { timeout: 120_000 }, async () => {
  const allow = [/page_bg\.wasm/, /Failed to fetch|ERR_FAILED|preload/i, /registration blocked/];
  // Without a worker, which would have the program at hand.
  const visit = await visitor(browser, { address: withHeaders, allow, serviceWorkers: "block" });
  const { page, context } = visit;
  await keepOne(page, withHeaders, "Before the gap");
  await context.route("**/page_bg.wasm", (route) => route.abort());
  await page.reload();
  await page.getByRole("heading", { name: "The program could not start" }).waitFor();
  const { path, saved } = await rescue(page);
  assert.equal(saved.stores.fittings.length, 1);
  await takeIn(path, "Before the gap");
  visit.assertClean();
  await visit.close();
});
