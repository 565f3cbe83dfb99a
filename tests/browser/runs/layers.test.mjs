// What lies between stick and game, the numbers for one layer of it, and five minutes in the
// person's own game: kept with the fitting, and on the sheet.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const goTo = (page, name) => page.evaluate((name) => (location.hash = `#/${name}`), name);
const section = (page) => page.getByRole("region", { name: "What lies between stick and game" });

/** A row of the table of numbers. */
async function row(page, name) {
  const text = await section(page).getByRole("row", { name }).textContent();
  return text.replace(/\u00a0/g, " ");
}

/** Opens the kept fitting anew, after everything in memory is gone. */
async function openAgain(page) {
  // Kept once the store says so.
  await page.waitForTimeout(500);
  await page.goto(`${address}#/kept`);
  await page.reload();
  await page.getByRole("button", { name: /^Open: / }).first().click();
  await page.getByRole("slider", { name: "Dead zone" }).waitFor();
}

async function typed(page, name, value) {
  const field = section(page).getByLabel(name, { exact: true });
  await field.fill(value);
  await field.blur();
}

test("a hub that swallows a part leaves the host the rest", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, {
    address,
    scripts: [[scriptedPad, { period: 4 }]],
  });
  await openKept(page, address);
  await page.getByLabel("How the host lays the dead zone").selectOption("radial");
  await page.getByRole("slider", { name: "Dead zone" }).fill("15");
  await page.getByRole("slider", { name: "Full throw" }).fill("80");
  await section(page).getByText(/^Direct: one layer/).waitFor();

  await section(page).getByRole("button", { name: "host (computer, console)" }).click();
  await section(page).getByRole("button", { name: "hub or adapter" }).click();
  assert.equal(await section(page).getByText(/^Direct: one layer/).count(), 0);
  // The hub lies before the host, whichever was added first.
  await section(page).getByRole("group", { name: "1. the hub" }).waitFor();
  await section(page).getByRole("group", { name: "2. the host" }).waitFor();
  // Nobody knows what the hub ignores: the number counts on nothing, with a range.
  assert.match(await row(page, /^Dead zone/), /15 % \(between 0 and 15 %/);
  await section(page).getByText(/Usual is nothing, or 10 to 25\s% \(common practice, no source\)/).waitFor();

  await typed(page, "It already ignores (%), layer 1", "10");
  // (0.15 − 0.1) / 0.9 = 5.6 %, up to the next percent; (0.8 − 0.1) / 0.9 = 77.8 %, down.
  assert.match(await row(page, /^Dead zone/), /^Dead zone, round6 %$/);
  assert.match(await row(page, /^Full throw/), /77 %$/);
  await section(page).getByText(/ignores 15\.4\s% of travel \(15\.0\s% suggested\)/).waitFor();
  await section(page).getByText(/^The hub already ignores 10\s%/).waitFor();
  assert.equal(await section(page).getByText(/Nobody knows what the hub/).count(), 0);

  // All of it is gone in the hub: nothing to type in, and it says why.
  await typed(page, "It already ignores (%), layer 1", "20");
  assert.match(await row(page, /^Dead zone/), /^Dead zone, round0 %$/);
  await section(page).getByText(/already ignores as much as is wanted/).waitFor();
  await section(page).getByText(/cannot be set: that much remains/).waitFor();

  // A check with the stick itself finds what nobody knew.
  await typed(page, "It already ignores (%), layer 1", "10");
  await section(page).getByRole("button", { name: "game", exact: true }).click();
  await section(page).getByRole("button", { name: "The game moves now: take it over, layer 3" }).click();
  await section(page).getByText("No stick is chosen: nothing could be read.").waitFor();
  assertClean();
  await assertAccessible(page, "settings with layers");
  assert.deepEqual(await pictures(page, "layers"), []);

  await openAgain(page);
  await section(page).getByRole("group", { name: "3. the game" }).waitFor();
  assert.equal(
    await section(page).getByLabel("It already ignores (%), layer 1", { exact: true }).inputValue(),
    "10",
  );
  await section(page).getByRole("button", { name: "Remove, layer 3" }).click();
  await section(page).getByRole("group", { name: "3. the game" }).waitFor({ state: "detached" });

  await goTo(page, "handover-sheet");
  const paper = page.getByRole("article");
  await paper.getByText("To type into the host: stick → the hub → the host").first().waitFor();
  assert.match(await paper.textContent(), /Dead zone, round6\s%/);
  await goTo(page, "summary");
  const sheet = page.getByRole("region", { name: "What lies between stick and game" });
  await sheet.getByText("stick → the hub → the host").waitFor();
  await sheet.getByText("To type into the host").waitFor();
  await assertAccessible(page, "sheet with layers");
  assert.deepEqual(await pictures(page, "layers-sheet"), []);
  assertClean();
  await close();
});

test("a slow push finds what the game ignores", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, {
    address,
    scripts: [[scriptedPad, { period: 4 }]],
  });
  await openKept(page, address);
  await goTo(page, "stick");
  await page.evaluate(() => {
    window.scriptedStick.connect(0, { id: "Bench stick", axes: 2, buttons: 1 });
    return window.scriptedStick.press(0, 0);
  });
  await page.getByRole("button", { name: /^Bench stick/ }).click();
  await goTo(page, "settings");
  await page.getByRole("slider", { name: "Dead zone" }).waitFor();
  await section(page).getByRole("button", { name: "host (computer, console)" }).click();
  await section(page).getByRole("button", { name: "game", exact: true }).click();
  await section(page).getByRole("radio", { name: "Numbers for this one, layer 1" }).check();
  // The fitting's own rest is 2 % right and 1.5 % down: the push is told from there.
  await page.evaluate(() => window.scriptedStick.moveTo([0.14, 0.015], 100, 0));
  await page.waitForTimeout(400);
  await section(page).getByRole("button", { name: "The game moves now: take it over, layer 2" }).click();
  const field = section(page).getByLabel("It already ignores (%), layer 2", { exact: true });
  await page.waitForFunction((field) => field.value !== "", await field.elementHandle());
  const found = Number(await field.inputValue());
  assert.ok(Math.abs(found - 12) <= 1, `${found} % was found`);
  await section(page).getByText(/^The game ignores \d+\s% on top of it/).waitFor();
  assertClean();
  await close();
});

test("five minutes in the own game, by keyboard alone, and kept", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  await goTo(page, "try");
  await page.getByRole("heading", { name: "Five minutes in your own game" }).waitFor();
  const keys = keyboard(page);
  await keys.use(/^Start a clock$/);
  await page.getByRole("timer").filter({ hasText: /^[1-9]\ss$/ }).waitFor();
  await keys.use(/^Stop the clock$/);
  await keys.to(/^Minutes played/);
  await page.keyboard.press("Control+A");
  await keys.type("5");
  await keys.to(/^How hard was it/);
  await keys.type("3");
  await keys.to(/^How comfortable was it/);
  await keys.type("7");
  await keys.use(/^The game moves by itself/, "Space");
  await keys.use(/^Too quick near the middle/, "Space");
  await keys.to(/^What was changed back/);
  await keys.type("Sensitivity, it felt slow");
  await page.keyboard.press("Tab");

  const advice = page.getByRole("status").filter({ hasText: "What to change first" });
  const lines = await advice.getByRole("listitem").allTextContents();
  assert.equal(lines.length, 2, lines.join("\n"));
  assert.match(lines[0], /Dead zone one step up, from \d+\s% to \d+\s%\. At rest here .* a minute/);
  assert.match(lines[0], /It takes \d+\s% of the reach to the right/);
  assert.match(lines[1], /Sensitivity gentler near the middle/);
  await assertAccessible(page, "own game");
  assert.deepEqual(await pictures(page, "own-game"), []);

  await openAgain(page);
  await goTo(page, "try");
  const tick = (name) => page.getByRole("checkbox", { name });
  await tick("The game moves by itself").waitFor();
  assert.ok(await tick("The game moves by itself").isChecked());
  assert.ok(!(await tick("It answers late").isChecked()));
  assert.equal(await page.getByLabel("Minutes played").inputValue(), "5");
  assert.equal(await page.getByLabel(/^How hard was it/).inputValue(), "3");
  assert.equal(await page.getByLabel(/^How comfortable was it/).inputValue(), "7");
  assert.equal(await page.getByLabel(/^What was changed back/).inputValue(), "Sensitivity, it felt slow");

  // Pain comes before any setting.
  await tick("It hurt or went numb").check();
  const first = page.getByRole("status").filter({ hasText: "What to change first" });
  assert.match((await first.getByRole("listitem").allTextContents())[0], /Stop for today/);
  assertClean();
  await close();
});
