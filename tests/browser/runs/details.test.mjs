// The researcher's page: every figure of a fitting in tables, as text, and each recording as a file.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

async function saved(page, button) {
  const download = page.waitForEvent("download");
  await button.click();
  const file = await download;
  return { name: file.suggestedFilename(), text: await readFile(await file.path(), "utf8") };
}

/** The cells of the row with this name, and of what it is, in the table of this title. */
async function row(page, title, name, of = "") {
  const rows = page.getByRole("region", { name: title, exact: true }).locator("tbody tr");
  const cells = await rows.evaluateAll((rows) => rows.map((row) => [...row.cells].map((cell) => cell.textContent)));
  const found = cells.filter((cells) => cells[0] === name && cells[1] === of);
  assert.equal(found.length, 1, `${name} ${of} in ${title}: ${JSON.stringify(cells)}`);
  return found[0].map((cell) => cell.replaceAll("\u00a0", " "));
}

test("every figure stands there with its interval, and says what it rests on", { timeout: 300_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  const keys = keyboard(page);
  await keys.use(/^All figures, for researchers$/);
  await page.getByRole("heading", { name: "All figures", level: 1 }).waitFor();
  await assertAccessible(page, "all figures");
  assert.deepEqual(await pictures(page, "details"), []);

  // The same figures as in the summary, to the last digit shown.
  const [, , value, interval] = await row(page, "Suggested dead zone", "dead_zone");
  const { text: figures, name } = await saved(page, page.getByRole("button", { name: "Save as text" }));
  assert.equal(name, "stick-figures.txt");
  await page.evaluate(() => (location.hash = "#/hand-over"));
  const summary = await saved(page, page.getByRole("button", { name: "Save the summary as a file" }));
  const { body } = JSON.parse(summary.text);
  const { radius } = body.dead_zone.known;
  const near = (text, share) => assert.ok(Math.abs(Number(text) - share) < 0.0006, `${text} and ${share}`);
  near(value, radius.value);
  const [low, high] = interval.split(" to ");
  near(low, radius.low);
  near(high, radius.high);

  // The text holds each table with its method and the same row.
  for (const title of ["Reach by direction", "Events by radius, quiet rest", "Suggested dead zone"]) {
    assert.ok(figures.includes(title), title);
  }
  const line = figures.split("\n").find((line) => line.trim().startsWith("dead_zone "));
  assert.ok(line?.includes(value) && line.includes(interval), line);

  // What was not measured says so and has no number.
  await page.evaluate(() => (location.hash = "#/details"));
  const untold = await row(page, "Rhythm", "rhythm.hertz").catch(() => null);
  if (untold) assert.equal(untold[2] === "–", untold[5] !== "" && untold[3] === "", JSON.stringify(untold));
  assertClean();
  await close();
});

test("each recording is told with what was left out of it, and saved as CSV", { timeout: 90_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  await page.evaluate(() => (location.hash = "#/details"));
  const table = page.getByRole("region", { name: "Recordings, and what was left out" });
  await table.waitFor();
  const rows = table.locator("tbody tr");
  const count = await rows.count();
  assert.ok(count >= 4, `${count} recordings`);
  for (let at = 0; at < count; at += 1) {
    const cells = await rows.nth(at).locator("td").allTextContents();
    const { name, text } = await saved(page, rows.nth(at).getByRole("button", { name: /^Save as CSV: / }));
    assert.match(name, new RegExp(`^recording-${at + 1}-[a-z_]+\\.csv$`));
    const lines = text.trim().split("\n");
    assert.match(lines[0], /^# stick_recording: 1/);
    const data = lines.filter((line) => !line.startsWith("#"));
    assert.match(data[0], /^time_s,axis0_share/);
    // As many changes in the file as the table tells.
    assert.equal(String(data.length - 1), cells[2], name);
  }
  assertClean();
  await close();
});

test("without a fitting it leads to measuring", async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.goto(`${address}#/details`);
  await page.getByRole("heading", { name: "All figures", level: 1 }).waitFor();
  await assertAccessible(page, "all figures without a fitting");
  await page.getByRole("button", { name: "Go and measure" }).click();
  await page.getByRole("heading", { name: "All figures" }).waitFor({ state: "detached" });
  assertClean();
  await close();
});
