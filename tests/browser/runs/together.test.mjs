// Two devices in one fitting: side by side, each with its role and series, on one host.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo, openCard, smallTargets } from "../lib/cards.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { sentence } from "../lib/person.mjs";
import { pictures } from "../lib/screens.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

test("a stick and a pad: roles, ports, series of their own", { timeout: 300_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address, scripts: [[scriptedPad, { period: 4 }]] });
  await page.goto(`${address}#/stick`);
  await page.evaluate(async () => {
    window.scriptedStick.connect(0, { id: "Chin stick", axes: 2, buttons: 2 });
    window.scriptedStick.connect(1, { id: "Ordinary pad", axes: 4, buttons: 12 });
    await window.scriptedStick.press(0, 0);
    await window.scriptedStick.press(1, 0);
  });
  await page.getByRole("button", { name: /^Chin stick/ }).click();
  await page.getByRole("link", { name: /^Devices together/ }).click();
  await page.getByText("So far this fitting has one device. 1. Chin stick").waitFor();
  await page.getByRole("button", { name: "Add a device: Ordinary pad" }).click();
  const chin = page.getByRole("region", { name: /^1\. Chin stick/ });
  const pad = page.getByRole("region", { name: /^2\. Ordinary pad/ });
  await chin.getByText("measured now").waitFor();

  // Both are live, whichever is measured.
  await page.evaluate(() => {
    window.scriptedStick.moveTo([0.5, 0, 0, 0], 0, 1);
    void window.scriptedStick.press(1, 3, 5000);
  });
  await pad.getByText(/^50\s%\sright, 0/).waitFor();
  await pad.getByText("3", { exact: true }).waitFor();

  await goTo(page, "what-gets-through");
  await page.getByRole("radio", { name: /^A hub with two stick ports/ }).check();
  await goTo(page, "together");
  await page.getByText("Good: the host makes one controller of them.").waitFor();
  await chin.getByText("A hub with two stick ports: works", { exact: true }).waitFor();
  await pad.getByText("A hub with two stick ports: works with limits", { exact: true }).waitFor();
  assert.equal(await pad.getByRole("combobox", { name: "Port of the host" }).inputValue(), "1", "a port of its own");
  await pad.getByRole("combobox", { name: "Port of the host" }).selectOption("0");
  await page.getByText("Stops it: devices 1 and 2 are both in port 1. A port takes one.").waitFor();
  await pad.getByRole("combobox", { name: "Port of the host" }).selectOption("1");
  for (const card of [chin, pad]) {
    await card.getByRole("combobox", { name: "What it is there for" }).selectOption({ label: "the left stick" });
  }
  await page.getByText(/^Limit: devices 1 and 2 are both the left stick\./).waitFor();
  await pad.getByRole("combobox", { name: "What it is there for" }).selectOption({ label: "another person plays along" });
  await pad.getByRole("textbox", { name: "Who plays with it" }).fill("Sister <b>Ada</b>");
  await pad.getByRole("textbox", { name: "Who plays with it" }).press("Tab");
  assert.deepEqual(await pictures(page, "together"), []);
  assert.deepEqual(await smallTargets(page, "together"), []);
  await assertAccessible(page, "devices together");

  // What is told of one is not of the other.
  await goTo(page, "set-up");
  const where = (await openCard(page, "Where the stick is")).getByRole("textbox", { name: "Measured from" });
  await where.fill("Tray");
  await where.press("Tab");
  await goTo(page, "together");
  await pad.getByRole("button", { name: "Measure with this one: 2. Ordinary pad" }).click();
  await pad.getByText("measured now").waitFor();
  await goTo(page, "set-up");
  await page.getByRole("heading", { name: "Other series of this fitting" }).waitFor();

  // Choosing the other stick goes on with its own series, and begins no new fitting.
  await goTo(page, "stick");
  await page.getByRole("button", { name: /^Chin stick/ }).click();
  await goTo(page, "together");
  await chin.getByText("measured now").waitFor();
  await goTo(page, "kept");
  await page.reload();
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.waitForFunction(() => location.hash === "#/ready");
  await goTo(page, "together");
  await pad.getByText("Nothing was recorded with it yet.").waitFor();
  assert.equal(await pad.getByRole("textbox", { name: "Who plays with it" }).inputValue(), "Sister <b>Ada</b>");

  // Nothing was recorded with the second, so it can be taken out again.
  await page.getByRole("button", { name: "Take it out: 2. Ordinary pad" }).click();
  await page.getByRole("heading", { level: 1, name: "Devices together" }).waitFor();
  await pad.waitFor({ state: "detached" });
  assertClean();
  await close();
});

test("what was recorded with one stays when another is measured", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address, scripts: [[scriptedPad, { period: 4 }]] });
  await openKept(page, address);
  const deadZone = () => page.getByRole("slider", { name: "Dead zone" }).getAttribute("aria-valuetext");
  await page.getByRole("slider", { name: "Dead zone" }).press("ArrowRight");
  const chosen = await deadZone();
  await page.evaluate(async () => {
    window.scriptedStick.connect(0, { id: "Ordinary pad", axes: 4, buttons: 12, noise: 0.01 });
    await window.scriptedStick.press(0, 0);
  });
  await goTo(page, "together");
  await page.getByRole("button", { name: "Add a device: Ordinary pad" }).click();
  const bench = page.getByRole("region", { name: /^1\. Bench stick/ });
  const pad = page.getByRole("region", { name: /^2\. Ordinary pad/ });
  await bench.getByText("4 tasks were recorded with it.").waitFor();
  await bench.getByText(/^Not connected/).waitFor();
  await pad.getByRole("button", { name: "Measure with this one: 2. Ordinary pad" }).click();
  await pad.getByText("measured now").waitFor();

  await goTo(page, "measure");
  await page.getByRole("button", { name: /^3 minutes/ }).click();
  await page.getByRole("button", { name: /^Start: Hands off/ }).click();
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await sentence(page).filter({ hasText: /is there|enough|Enough/ }).waitFor({ timeout: 60_000 });
  await goTo(page, "together");
  await pad.getByText("One task was recorded with it.").waitFor();
  await bench.getByText("4 tasks were recorded with it.").waitFor();
  assert.equal(await page.getByRole("button", { name: /^Take it out/ }).count(), 0);

  // The sheet has both, each with what was recorded with it.
  await goTo(page, "summary");
  const sheet = page.getByRole("region", { name: "The devices of this fitting" }).first();
  await sheet.getByRole("row", { name: /^1\. Bench stick not said yet no host chosen yet \d+\s?%/ }).waitFor();
  await sheet.getByRole("row", { name: /^2\. Ordinary pad/ }).waitFor();
  assert.deepEqual(await pictures(page, "together-sheet"), []);

  // Back at the first: its figures, and what was chosen by hand.
  await goTo(page, "together");
  await bench.getByRole("button", { name: "Measure with this one: 1. Bench stick" }).click();
  await bench.getByText("measured now").waitFor();
  await goTo(page, "settings");
  assert.equal(await deadZone(), chosen);
  await goTo(page, "kept");
  await page.reload();
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.getByRole("slider", { name: "Dead zone" }).waitFor();
  assert.equal(await deadZone(), chosen);
  assertClean();
  await close();
});
