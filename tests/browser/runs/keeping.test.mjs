// What is kept is kept apart, and called kept only where it is.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { startPlan, watchTask } from "../lib/practice.mjs";

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
  await page.goto(`${address}#/stick`);
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
  await page.getByRole("heading", { name: "There is no stick to measure yet." }).waitFor();
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
