// From the page into a file and out of `analyse`: what somebody measured, saved and gave to a colleague
// gives the very figures that the page shows, whichever file it was saved as.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { analyse, figures } from "../lib/analyse.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { nextOfPlan } from "../lib/plan.mjs";
import { startPlan, watchTask } from "../lib/practice.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const NAME = "Window seat, practised";

async function saved(page, press) {
  const download = page.waitForEvent("download");
  await press();
  return (await download).path();
}

const press = (page, name) => () => page.getByRole("button", { name, exact: true }).last().click();

/** What has to be typed in; each stands on the page and in the table. */
const TYPED = [
  "centre right",
  "centre up",
  "dead_zone",
  "dead_zone.radial",
  "direction.turn",
  "direction.swapped",
  "direction.right_gain",
  "smoothing.used",
  "smoothing.cutoff",
  "curve.exponent",
  "switches.on",
  "timing.shortest_press all",
];

/**
 * That all measured and suggested figures of the program are on the page, and are the same there.
 * Of effects the page tells those of the settings in use, which may be others.
 */
function assertSame(said, shown, what) {
  assert.equal(said.code, 0, `${what}: ${said.err}`);
  assert.equal(said.err, "", what);
  const found = figures(said.out);
  for (const name of TYPED) assert.ok(found.has(name), `${what}: ${name} in\n${said.out}`);
  assert.ok(found.size > 60, `${what}: ${found.size} rows`);
  for (const [name, cells] of found) {
    if (name.startsWith("effect.") && !/ raw( |$)/.test(name)) continue;
    assert.deepEqual(cells, shown.get(name), `${what}: ${name}`);
  }
}

test("what the page saves is measured to the same figures", { timeout: 400_000 }, async () => {
  const allow = [/uncaught error/, /RuntimeError|unreachable|memory access|panicked/i];
  const { page, assertClean, close } = await visitor(browser, { address, allow });
  await page.goto(`${address}#/ready`);
  await page.getByRole("textbox", { name: "A name for this fitting" }).fill(NAME);
  await startPlan(page, address, "Short to one side", 3);
  for (let task = 0; task < 4 && (await nextOfPlan(page)); task += 1) await watchTask(page);
  await page.evaluate(() => (location.hash = "#/details"));
  await page.getByRole("heading", { name: "All figures", level: 1 }).waitFor();
  const shown = figures(await readFile(await saved(page, press(page, "Save as text")), "utf8"));
  assert.match(shown.get("dead_zone")[0], /^0\.\d{4}$/, "a dead zone was found");
  assert.match(shown.get("dead_zone")[1], / to /);

  // Each recording as CSV, together one visit.
  const recordings = [];
  for (const button of await page.getByRole("button", { name: /^Save as CSV: / }).all()) {
    recordings.push(await saved(page, () => button.click()));
  }
  assert.ok(recordings.length >= 3, `${recordings.length} recordings`);
  assertSame(await analyse(["--together", ...recordings]), shown, "CSV");

  await page.evaluate(() => (location.hash = "#/hand-over"));
  await page.getByText(/^Kept in this browser at/).waitFor();
  const one = await saved(page, press(page, "Save the fitting with its recordings"));
  const said = await analyse([one]);
  assertSame(said, shown, "one fitting");
  assert.match(said.out, /\(Window seat, practised, invented person short-to-one-side\)/);
  const json = JSON.parse((await analyse(["--json", one])).out);
  const radius = json.body.suggestions.find(({ name }) => name === "dead_zone");
  assert.equal(radius.value.toFixed(4), shown.get("dead_zone")[0]);
  // Another target gives another dead zone (the one that holds by itself: where that leaves no room, a
  // smaller one is named), a reader that has enough ends it quietly.
  const rare = figures((await analyse([one, "--false-movements-a-minute", "0.1"])).out);
  const alone = (of) => Number(of.get("dead_zone.alone")[0]);
  assert.ok(alone(rare) > alone(shown), `${rare.get("dead_zone.alone")} and ${shown.get("dead_zone.alone")}`);
  const cut = await analyse(["--json", ...Array.from({ length: 20 }, () => one)], { lines: 1 });
  assert.deepEqual([cut.code, cut.err], [0, ""]);
  const summary = await analyse([await saved(page, press(page, "Save the summary as a file"))]);
  assert.equal(summary.code, 1);
  assert.match(summary.err, /a summary: the results of a fitting\. There is no recording in it/);

  await page.evaluate(() => (location.hash = "#/kept"));
  const all = await saved(page, press(page, "Save everything as a file"));
  assertSame(await analyse([all]), shown, "everything kept");

  // The program dies: what the panic page saves is read as well.
  await page.evaluate(async () => {
    const program = await (await import("./page.js")).default();
    new Uint8Array(program.memory.buffer).fill(0xff);
    location.hash = "#/settings";
  });
  await page.getByRole("heading", { name: "The program has stopped" }).waitFor();
  const rescue = await saved(page, press(page, "Save everything kept in this browser as a file"));
  assertSame(await analyse([rescue]), shown, "rescued");
  assertClean();
  await close();
});
