// The whole job on an invented person whose truth is known, holds included: measured, kept, opened
// again with live sliders, and shared with somebody who has nothing.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { sentence } from "../lib/person.mjs";
import { nextOfPlan } from "../lib/plan.mjs";
import { startPlan, watchTask } from "../lib/practice.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const PERSON = "Short to one side";
const NAME = "Practice, short to the right";

/**
 * What is true of this person, from the model (`fitting::invented`): reach along the person's own
 * directions, how far the mount is turned, degrees from right towards up, and the untouched stick.
 */
const TRUTH = {
  reach: { right: 0.38, up: 0.66, left: 0.8, down: 0.62 },
  turn: 25,
  centre: { right: 0.01, up: 0.03 },
};

/**
 * How far a mean of four pushes may lie from the truth. A push spreads by 5 % of its length, and by
 * 3.5 % and a wander of 0.01 while it lasts; four of them, four standard errors: 0.8 of the longest
 * is 0.10, of the shortest 0.06. Fatigue of 0.8 % a minute takes 0.02 more.
 */
const reachTolerance = (reach) => 0.04 + 0.1 * reach;

/** A direction spreads by 5 degrees; sixteen pushes, four standard errors. */
const TURN_TOLERANCE = 5;

const OUT = { right: 0, up: 90, left: 180, down: -90 };

const fold = (degrees) => ((((degrees + 180) % 360) + 360) % 360) - 180;

async function saveSummary(page) {
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the summary as a file" }).click();
  return JSON.parse(await readFile(await (await download).path(), "utf8"));
}

/** The hand-over screen, without loading the page anew. */
async function handOver(page) {
  await page.evaluate(() => (location.hash = "#/hand-over"));
  await page.getByRole("heading", { name: NAME }).waitFor();
}

/** What a summary says, whoever's name is on it. */
function canonical(summary) {
  const { label: _label, ...said } = summary.body;
  return said;
}

test("the whole job on an invented person", { timeout: 540_000 }, async () => {
  const { page, requests, assertClean, close } = await visitor(browser, { address });
  await page.goto(`${address}#/ready`);
  await page.getByRole("textbox", { name: "A name for this fitting" }).fill(NAME);
  await startPlan(page, address, PERSON, 6);
  const kinds = new Set();
  for (let kind; (kind = await nextOfPlan(page)); ) {
    kinds.add(kind);
    await page.getByText(`${PERSON} plays this by itself.`).waitFor();
    await watchTask(page);
  }
  assert.equal(await sentence(page).textContent(), "Everything in the plan is there");
  for (const kind of ["Hands off", "Quiet rest", "Reach", "Hold"]) assert.ok(kinds.has(kind), kind);

  // Settings: the turn is told, with its side and its size.
  await page.getByRole("button", { name: "See the settings" }).click();
  await page.getByRole("slider", { name: "Dead zone" }).waitFor();
  const told = await page.getByText(/Pushes come out \d+° anticlockwise/).textContent();
  const turn = Number(told.match(/(\d+)°/)[1]);
  assert.ok(Math.abs(turn - TRUTH.turn) <= TURN_TOLERANCE, `a turn of ${turn}° of ${TRUTH.turn}°`);

  // Measures and settings against the model.
  await handOver(page);
  await page.getByText(/^Kept in this browser at/).waitFor();
  const summary = await saveSummary(page);
  const { rest, reach, hold, dead_zone: deadZone, full_throw: fullThrow, curve, chosen } = summary.body;
  const near = (value, truth, tolerance, what) => {
    console.log(`${what}: ${value} of ${truth}`);
    assert.ok(Math.abs(value - truth) <= tolerance, `${what}: ${value}, true ${truth}`);
  };
  // The person's hand wanders while it rests: the centre is that of the rest, not of the stick.
  near(rest.known.centre.right, TRUTH.centre.right, 0.02, "centre to the right");
  near(rest.known.centre.up, TRUTH.centre.up, 0.02, "centre upwards");
  assert.deepEqual(new Set(reach.map(({ asked }) => asked)), new Set(Object.keys(TRUTH.reach)));
  const turns = [];
  for (const { asked, reach: found, end } of reach) {
    near(found.known.value, TRUTH.reach[asked], reachTolerance(TRUTH.reach[asked]), `reach ${asked}`);
    assert.ok(found.known.low <= found.known.value && found.known.value <= found.known.high);
    // Of the pushes asked, one that came late or went astray is left out; figures need two.
    assert.ok(found.known.repetitions >= 2, `${asked}: ${found.known.repetitions} pushes`);
    turns.push(fold((Math.atan2(end.up, end.right) * 180) / Math.PI - OUT[asked]));
  }
  near(turns.reduce((sum, one) => sum + one, 0) / 4, TRUTH.turn, TURN_TOLERANCE, "turn of the ends");
  const shortest = reach.reduce((a, b) => (a.reach.known.value < b.reach.known.value ? a : b));
  assert.equal(shortest.asked, "right");
  assert.ok(hold.length >= 1, "holds are in the summary");
  // A minute of a rest that wanders by 0.01 (one deviation) needs more than that, and less than a
  // third of the shortest reach, else the page would have to say that rest and reach collide.
  const radius = deadZone.known.radius.value;
  console.log(`dead zone ${radius}, full throw ${JSON.stringify(fullThrow)}, ${JSON.stringify(curve)}`);
  assert.ok(radius > 0.01 && radius < TRUTH.reach.right / 3, `dead zone ${radius}`);
  // Every side gets to the full output: the shortest decides, with some reserve. The plan asks for a
  // longer hold at half of own reach, and where that was easy it is what can be kept up. Where that
  // leaves less than the least room to steer in beside the dead zone, 15 % of travel, none is named.
  if (fullThrow.known) {
    assert.equal(fullThrow.known.decided_by, "right");
    const throwRadius = fullThrow.known.radius.value;
    assert.ok(
      throwRadius > 0.45 * TRUTH.reach.right && throwRadius < 1.05 * TRUTH.reach.right,
      `full throw ${throwRadius}`,
    );
    assert.equal(chosen.full_throw, throwRadius);
  } else {
    assert.match(JSON.stringify(fullThrow), /no_steering_span/);
    assert.ok(0.45 * TRUTH.reach.right - radius < 0.15, `there is room beside ${radius}`);
  }
  assert.equal(chosen.dead_zone, radius);
  assert.equal(summary.body.practised, "short-to-one-side");

  // Kept: reloaded, opened, equal, and its sliders live.
  await page.goto(`${address}#/kept`);
  await page.reload();
  await page.getByRole("button", { name: `Open: ${NAME}` }).click();
  const slider = page.getByRole("slider", { name: "Dead zone" });
  await slider.waitFor();
  await handOver(page);
  assert.deepEqual(canonical(await saveSummary(page)), canonical(summary));
  await page.evaluate(() => (location.hash = "#/settings"));
  await slider.waitFor();
  const judged = page.locator("section[aria-labelledby=judged]");
  const figures = () => judged.locator(".bars, table").allInnerTexts();
  const before = { figures: await figures(), value: Number(await slider.inputValue()) };
  await slider.focus();
  for (let press = 0; press < 4; press += 1) await page.keyboard.press("ArrowRight");
  await page.getByText(/^Chosen by hand: the inner/).waitFor();
  assert.equal(Number(await slider.inputValue()), Math.round(before.value) + 4);
  const moved = await figures();
  assert.notDeepEqual(moved, before.figures, "the figures follow the slider");
  const keptOf = (texts) => texts.join("\n").match(/right\t\s*(\d+)\s*%\t\s*(\d+)\s*%/).slice(1).map(Number);
  const [reachBefore, keptBefore] = keptOf(before.figures);
  const [reachAfter, keptAfter] = keptOf(moved);
  assert.equal(reachAfter, reachBefore, "a slider changes no measure");
  assert.ok(Math.abs(keptBefore - keptAfter - 4) <= 1, `kept ${keptBefore} %, then ${keptAfter} %`);
  await page.getByRole("button", { name: "As suggested: Dead zone" }).click();
  await page.waitForFunction(
    ([before]) => document.querySelector("input[type=range]").value === before,
    [String(before.value)],
  );
  assert.deepEqual(await figures(), before.figures, "back to the suggestion, back to its figures");

  // Link: a second profile, with nothing else, reads the same.
  await handOver(page);
  assert.deepEqual(canonical(await saveSummary(page)), canonical(summary));
  await page.getByRole("button", { name: "Make a link" }).click();
  const link = await page.getByRole("textbox", { name: "The link" }).inputValue();
  assert.ok(link.length - address.length + 100 <= 2000, `${link.length} characters`);
  const second = await visitor(browser, { address });
  await second.page.goto(link);
  // A whole program is loaded anew, beside whatever else this machine does.
  await second.page.getByText("Read-only").first().waitFor({ timeout: 60_000 });
  await second.page.getByText("This is an invented person").waitFor();
  const shared = await saveSummary(second.page);
  assert.deepEqual(canonical(shared), canonical(summary));
  assert.equal(shared.body.label, null, "the name stays out unless asked for");
  second.assertClean();
  await second.close();

  assert.ok(requests.every(({ url }) => url.startsWith(address) || url.startsWith("blob:")));
  assertClean();
  await close();
});
