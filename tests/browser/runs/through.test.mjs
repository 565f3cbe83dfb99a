// What gets through: each verdict, with scripted devices, and a host of one's own.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { readFile } from "node:fs/promises";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo, smallTargets } from "../lib/cards.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { pagesOf } from "../lib/pdf.mjs";
import { pictures } from "../lib/screens.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

async function withStick(wish) {
  const visit = await visitor(browser, { address, scripts: [[scriptedPad, { period: 4 }]] });
  const { page } = visit;
  await page.goto(`${address}#/stick`);
  if (wish) {
    await page.evaluate((wish) => {
      window.scriptedStick.connect(0, wish);
      return window.scriptedStick.press(0, 0);
    }, wish);
    await page.getByRole("button", { name: /^Scripted stick/ }).click();
  }
  await page.getByRole("link", { name: /^What gets through/ }).click();
  return visit;
}

const host = (page, name) => page.getByRole("radio", { name }).check();
const says = (page, word) => page.getByRole("heading", { name: `Does it work? ${word}`, exact: true }).waitFor();

test("works, and works with limits: twelve buttons, a hat, the standard layout", { timeout: 180_000 }, async () => {
  const { page, assertClean, close } = await withStick({ axes: 3, buttons: 12, hat: 2 });
  await host(page, /^A computer that takes anything/);
  await says(page, "works");
  await page.getByText(/The hat switch comes as axis 2, which rests at 1\.29/).waitFor();
  await host(page, /^A hub with two stick ports/);
  await says(page, "works with limits");
  await page.getByText(/The first 8 buttons get through \(0 to 7\), and 4 are lost \(from 8 on\)/).waitFor();
  await page.getByText("The hat switch is lost.").waitFor();
  await page.getByRole("combobox", { name: "Which port" }).selectOption("1");
  await page.evaluate(() => window.scriptedStick.press(0, 3));
  await page.getByRole("status").filter({ hasText: "Button 3 gets through." }).waitFor();
  await page.evaluate(() => window.scriptedStick.press(0, 9));
  await page.getByRole("status").filter({ hasText: "Button 9 is lost." }).waitFor();
  assert.deepEqual(await pictures(page, "through-limits"), []);
  assert.deepEqual(await smallTargets(page, "through"), []);
  await assertAccessible(page, "what gets through");
  await host(page, /^A web page in the open standard/);
  await says(page, "works with limits");
  await page.getByText(/lays this device out by numbers only/).waitFor();
  // On paper: the verdict and nothing to press; on the summary sheet, too.
  await host(page, /^A hub with two stick ports/);
  const paper = await pagesOf(await page.pdf({ format: "A4" }));
  assert.equal(paper.length, 1);
  assert.match(paper[0], /A hub with two stick ports Does it work\? works with limits .*The hat switch is lost\./);
  assert.doesNotMatch(paper[0], /Describe a host of your own|Read a report descriptor/);
  // It is kept.
  await page.reload();
  await page.goto(`${address}#/kept`);
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.waitForFunction(() => location.hash === "#/ready");
  await page.goto(`${address}#/what-gets-through`);
  assert.ok(await page.getByRole("radio", { name: /^A hub with two stick ports/ }).isChecked());
  assertClean();
  await close();
});

test("will not work: one axis; cannot tell: nothing known", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await withStick({ axes: 1, buttons: 2 });
  await host(page, /^One stick port/);
  await says(page, "will not work");
  await page.getByText("It has one axis, and a stick needs two.").waitFor();
  assertClean();
  await close();
  const unknown = await withStick(null);
  await host(unknown.page, /^One stick port/);
  await says(unknown.page, "cannot tell yet");
  await unknown.page.getByText("Nobody knows yet as what it speaks.").waitFor();
  assert.deepEqual(await pictures(unknown.page, "through-unknown"), []);
  unknown.assertClean();
  await unknown.close();
});

test("a host of one's own, by keyboard, saved as a file and taken in again", { timeout: 180_000 }, async () => {
  const { page, assertClean, close } = await withStick({ axes: 2, buttons: 4 });
  const keys = keyboard(page);
  await keys.use(/^Describe a host of your own$/);
  await page.getByRole("heading", { level: 1, name: "A host of your own" }).waitFor();
  await keys.use(/^One stick port$/);
  const name = page.getByRole("textbox", { name: "What you call it" });
  await name.fill("The box under the television");
  await name.press("Tab");
  await page.getByRole("checkbox", { name: "joysticks (USB usage 4)" }).press("Space");
  await page.getByRole("checkbox", { name: "game pads (USB usage 5)" }).press("Space");
  await page.getByRole("spinbutton", { name: "Buttons that get through" }).fill("2");
  await page.getByRole("checkbox", { name: "a dead zone" }).press("Space");
  assert.deepEqual(await pictures(page, "host"), []);
  assert.deepEqual(await smallTargets(page, "host"), []);
  await assertAccessible(page, "a host of one's own");
  const [file] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save as a file to share" }).click(),
  ]);
  const text = await readFile(await file.path(), "utf8");
  const saved = JSON.parse(text);
  assert.deepEqual([saved.kind, saved.schema, saved.body.ports[0].buttons], ["host", 1, 2]);
  await page.getByRole("button", { name: "See what gets through" }).click();
  await says(page, "will not work");
  await page.getByText("It speaks as a game controller, which the host does not accept.").waitFor();

  await page.getByRole("link", { name: "Describe a host of your own" }).click();
  await page.getByRole("button", { name: "Delete this host" }).click();
  const input = page.locator("input[type=file]");
  await input.setInputFiles({ name: "host.json", mimeType: "application/json", buffer: Buffer.from("{}") });
  await page.getByText(/This file holds no host/).waitFor();
  await input.setInputFiles({ name: "host.json", mimeType: "application/json", buffer: Buffer.from(text) });
  await page.getByText("“The box under the television” was added.").waitFor();
  assertClean();
  await close();
});

test("the verdict and the plan of the buttons stand on the summary sheet, and on its paper", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  await goTo(page, "what-gets-through");
  await host(page, /^One stick port/);
  await goTo(page, "buttons");
  await page.getByRole("textbox", { name: "A job in your own words" }).fill("Jump");
  await page.getByRole("textbox", { name: "A job in your own words" }).press("Enter");
  await goTo(page, "summary");
  await page.getByRole("heading", { name: /^One stick port: works/ }).waitFor();
  await page.getByRole("table").filter({ hasText: "Jump" }).waitFor();
  assert.deepEqual(await pictures(page, "summary-with-devices"), []);
  const paper = (await pagesOf(await page.pdf({ format: "A4" }))).join(" ");
  assert.match(paper, /One stick port: works/);
  assert.match(paper, /Jump button \d/);
  await assertAccessible(page, "a summary with devices");
  assertClean();
  await close();
});
