// Out and in: what goes in is chosen and shown before; a file for others, a link, a short text with
// its code (read from a screenshot by a decoder of its own), pictures as SVG and PNG; and all of it
// taken in again.

import assert from "node:assert/strict";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import jsQR from "jsqr";
import { PNG } from "pngjs";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { samplesOf } from "../lib/recording.mjs";
import { OUT, pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
  await mkdir(OUT, { recursive: true });
});
after(() => browser?.close());

async function saved(page, button) {
  const download = page.waitForEvent("download");
  await button.click();
  const file = await download;
  return { name: file.suggestedFilename(), bytes: await readFile(await file.path()) };
}

const button = (page, name) => page.getByRole("button", { name, exact: true });

/** A visitor with a kept fitting that has a label, on Hand over. */
async function handOver() {
  const visit = await visitor(browser, { address });
  const { page } = visit;
  await openKept(page, address);
  await page.evaluate(() => (location.hash = "#/hand-over"));
  await page.getByRole("heading", { name: "Share with others" }).waitFor();
  return visit;
}

/** The text of the code in a picture of the page. */
function decoded(picture) {
  const { data, width, height } = PNG.sync.read(picture);
  return jsQR(new Uint8ClampedArray(data), width, height)?.data;
}

test("a short text fits its alphabet, and its code is read from the screen in light and dark", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await handOver();
  await button(page, "Make a short text and a code").click();
  const box = page.getByRole("textbox", { name: "The short text" });
  await box.waitFor();
  const text = await box.inputValue();
  assert.match(text, /^STICK-FITTING:1\/MADE:\d{4}-\d\d-\d\d\/[0-9A-Z$*+\-./:]+\/SUM:[0-9A-F]{8}$/);
  assert.ok(text.length <= 600, `${text.length} characters`);
  assert.deepEqual(await pictures(page, "sharing"), []);
  await assertAccessible(page, "sharing");
  const code = page.getByRole("img", { name: /code to be read by a camera/ });
  for (const [width, colorScheme] of [[1280, "light"], [1280, "dark"], [390, "dark"]]) {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme });
    await code.evaluate(async (code) => {
      code.scrollIntoView({ block: "center" });
      await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
    });
    // The window as a camera would see it, not the code cut out.
    assert.equal(decoded(await page.screenshot()), text, `${width} px, ${colorScheme}`);
  }
  await page.emulateMedia({ colorScheme: "light" });

  // What was read by a camera is shown on another machine, and kept nowhere.
  await page.evaluate(() => (location.hash = "#/kept"));
  const paste = page.getByRole("textbox", { name: /From a message/ });
  await paste.fill(`  ${text.toLowerCase().slice(0, 90)}\n${text.toLowerCase().slice(90)} `);
  await button(page, "Show it").click();
  await page.getByRole("heading", { name: "From a short text" }).waitFor();
  assert.deepEqual(await pictures(page, "pasted"), []);
  await assertAccessible(page, "pasted");
  await paste.fill(text.replace("DEAD-ZONE:0", "DEAD-ZONE:1"));
  await button(page, "Show it").click();
  await page.getByText("This text was cut off or changed on the way.").waitFor();
  await paste.fill("<img src=x onerror=alert(1)>");
  await button(page, "Show it").click();
  await page.getByText("This is neither a link nor a short text of this page.").waitFor();
  assertClean();
  await close();
});

test("nothing typed goes to others unless it was chosen, and the preview says so", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await handOver();
  const preview = page.getByRole("status").filter({ hasText: "This is what others get to see" });
  await preview.getByText("Not in it:").waitFor();
  const label = await page.getByRole("checkbox", { name: /^The name on it/ }).count();
  assert.equal(label, 1, "the fitting has a name");
  const name = (await page.locator("label.tick bdi").first().textContent()).match(/“(.*)”/)[1];
  const summary = await saved(page, button(page, "Save the summary as a file"));
  assert.ok(!summary.bytes.toString().includes(name), "the name is left out");
  await page.getByRole("checkbox", { name: /^The name on it/ }).check();
  const named = await saved(page, button(page, "Save the summary as a file"));
  assert.equal(JSON.parse(named.bytes).body.label, name);
  await page.getByRole("checkbox", { name: /^The name on it/ }).uncheck();

  await page.getByRole("checkbox", { name: /^The recordings/ }).check();
  await preview.getByText(/\d+ recordings/).waitFor();
  const count = Number((await preview.textContent()).match(/(\d+) recordings/)[1]);
  const copy = await saved(page, button(page, "Save a copy for others as a file"));
  const file = JSON.parse(copy.bytes);
  assert.equal(copy.name, "stick-fitting-copy.json");
  assert.equal(file.tasks.length, count);
  assert.ok(samplesOf(file.tasks[0].body.record.recording).length > 100);
  assert.ok(!copy.bytes.toString().includes(name), "the name is left out");
  assert.equal(file.fittings[0].body.notes, null);

  // Taken in again it is a fitting of its own beside the one it was made of; once more, nothing.
  await page.evaluate(() => (location.hash = "#/kept"));
  const take = async () => {
    await page.locator("#file").setInputFiles({
      name: "copy.json",
      mimeType: "application/json",
      buffer: copy.bytes,
    });
  };
  await take();
  await page.getByText(`1 fitting was added. ${count} recordings were added.`).waitFor();
  await take();
  await page.getByText("Everything in this file was already here.").waitFor();
  // Changed on the way: refused, whole.
  const changed = Buffer.from(copy.bytes.toString().replace(/"order":0/, '"order":9'));
  await page.locator("#file").setInputFiles({
    name: "copy.json",
    mimeType: "application/json",
    buffer: changed,
  });
  await page.getByText("This file is damaged or was changed by hand.").waitFor();
  assertClean();
  await close();
});

test("the pictures of a screen are saved as SVG and PNG that stand alone", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await handOver();
  await page.evaluate(() => (location.hash = "#/summary"));
  await button(page, "Save the pictures on this page").click();
  const svgs = page.getByRole("button", { name: /^Save as SVG/ });
  await svgs.first().waitFor();
  assert.ok((await svgs.count()) >= 2, "the field and the false movements");
  await assertAccessible(page, "pictures");
  const svg = await saved(page, svgs.first());
  assert.match(svg.name, /^stick-picture-1\.svg$/);
  const text = svg.bytes.toString();
  assert.match(text, /^<svg [^>]*xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
  assert.ok(!/class=|style=|<script/.test(text), "no style sheet is needed");
  const png = await saved(page, page.getByRole("button", { name: /^Save as PNG/ }).first());
  const { data, width } = PNG.sync.read(png.bytes);
  assert.equal(width, 1600);
  const colours = new Set();
  for (let at = 0; at < data.length; at += 400) colours.add(data.readUInt32LE(at));
  assert.ok(colours.size > 3, `something is drawn: ${colours.size} colours`);
  await writeFile(`${OUT}saved-picture.png`, png.bytes);
  assertClean();
  await close();
});
