// The main job from plugging in to a shared summary, on a scripted device whose truth is known.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, describe, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { playTask, sentence } from "../lib/person.mjs";
import { keepOnly, nextOfPlan } from "../lib/plan.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const STICK = 2;
const NAME = "Window seat, Tuesday";

/** What is true of the scripted stick and the person at it; shares of the stick's travel. */
const TRUTH = {
  noise: 0.002,
  centre: { right: 0.03, up: 0.02 },
  // While resting the stick goes round a circle of this radius 5.7 times a second (no whole
  // number of its turns fits the beat of the frames). Inside it the stick never rests; beyond it
  // only the noise reaches, five deviations at most.
  circle: 0.05,
  reach: { right: 0.8, up: 0.7, left: 0.6, down: 0.5 },
};

/** How far a measured centre may lie from the true one; the dead zone lies about the measured. */
const CENTRE_TOLERANCE = 0.004;

/** How far apart a measured reach and the truth may lie: the beat of the way out, and the noise. */
const REACH_TOLERANCE = 0.01;

function reachOf([x, y]) {
  const { right, up, left, down } = TRUTH.reach;
  // Between two sides it goes as far as on the farther one, so that a side decides the full throw.
  if (Math.abs(Math.abs(x) - Math.abs(y)) < 0.3) return Math.max(x > 0 ? right : left, y < 0 ? up : down);
  if (Math.abs(x) > Math.abs(y)) return x > 0 ? right : left;
  return y < 0 ? up : down;
}

async function saveSummary(page) {
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the summary as a file" }).click();
  return JSON.parse(await readFile(await (await download).path(), "utf8"));
}

async function handOver(page) {
  await page.goto(`${address}#/hand-over`);
  await page.getByRole("heading", { name: NAME }).waitFor();
}

/** What a summary says, without what may differ between two that are equal. */
function canonical(summary) {
  const { label: _label, ...said } = summary.body;
  return said;
}

// Side by side: each waits for its person most of the time.
describe("the main job", { concurrency: 2 }, () => {
  for (const [pace, period] of [["4 ms", 4], ["frame pace", 1000 / 60]]) {
    test(`the whole job at ${pace}`, { timeout: 300_000 }, async () => {
      const scripts = [[scriptedPad, { period, phase: 1.7 }]];
      const { page, requests, assertClean, close } = await visitor(browser, { address, scripts });
      await page.goto(address);

      // Ready.
      await page.getByRole("textbox", { name: "A name for this fitting" }).fill(NAME);
      await page.getByRole("button", { name: "Go on to the stick" }).click();

      // Stick: hidden until a button is pressed; two axes too many.
      await page.getByText("No stick has shown itself yet").waitFor();
      await page.evaluate(
        ([index, { noise, centre }]) => {
          const wish = { axes: 4, buttons: 12, noise, offset: [centre.right, -centre.up] };
          window.scriptedStick.connect(index, wish);
          return window.scriptedStick.press(index, 0);
        },
        [STICK, TRUTH],
      );
      // The only one is in use by itself.
      await page.getByRole("status").filter({ hasText: "Scripted stick is connected and in use." }).waitFor();
      await page.getByRole("button", { name: "Go on to measuring" }).click();

      // Measure.
      await page.getByRole("button", { name: /^3 minutes/ }).click();
      await keepOnly(page, ["Hands off", "Quiet rest", "Reach"]);
      const alone = { tremor: null };
      const resting = { tremor: { size: TRUTH.circle, hertz: 5.7, lag: Math.PI / 2 } };
      let pushes = 0;
      for (let kind; (kind = await nextOfPlan(page)); ) {
        const behaviour = kind === "Quiet rest" ? resting : alone;
        const told = await playTask(page, { stick: STICK, behaviour, reach: reachOf });
        pushes += told.filter((text) => text.startsWith("Push ")).length;
      }
      assert.ok(pushes >= 12, `${pushes} pushes`);
      assert.equal(await sentence(page).textContent(), "Everything in the plan is there");

      // Settings, as they are said and as they are kept.
      await page.getByRole("button", { name: "See the settings" }).click();
      await page.getByRole("slider", { name: "Dead zone" }).waitFor();
      const first = period === 4;
      if (first) {
        await assertAccessible(page, "settings with results");
        assert.deepEqual(await pictures(page, "settings"), []);
      }
      await handOver(page);
      if (first) {
        await assertAccessible(page, "hand over with results");
        assert.deepEqual(await pictures(page, "hand-over"), []);
      }
      const summary = await saveSummary(page);
      const { rest, reach, dead_zone: deadZone, full_throw: fullThrow, chosen } = summary.body;
      const near = (value, truth, tolerance, what) =>
        assert.ok(Math.abs(value - truth) <= tolerance, `${what}: ${value}, true ${truth}`);
      near(rest.known.centre.right, TRUTH.centre.right, CENTRE_TOLERANCE, "centre to the right");
      near(rest.known.centre.up, TRUTH.centre.up, CENTRE_TOLERANCE, "centre upwards");
      const radius = deadZone.known.radius.value;
      // It holds by itself, where nothing else is set: it covers the resting place beside the middle.
      const least = TRUTH.circle + Math.hypot(TRUTH.centre.right, TRUTH.centre.up) - CENTRE_TOLERANCE;
      // Half a minute cannot tell that its tail is as light as this.
      const most = least + 7 * TRUTH.noise + 2 * CENTRE_TOLERANCE;
      assert.ok(radius >= least && radius <= most, `dead zone ${radius}, true ${least} to ${most}`);
      assert.equal(deadZone.known.sureness, "rough", "half a minute of rest is not firm");
      // With minutes to spare the plan asks for pushes between the four sides, too.
      const sides = reach.filter(({ asked }) => asked in TRUTH.reach);
      assert.equal(sides.length, 4);
      for (const { asked, reach: found } of sides) {
        near(found.known.value, TRUTH.reach[asked], REACH_TOLERANCE, `reach ${asked}`);
        assert.ok(found.known.repetitions >= 3);
      }
      // From reach alone: eight tenths of the shortest side.
      near(fullThrow.known.radius.value, 0.8 * TRUTH.reach.down, REACH_TOLERANCE, "full throw");
      assert.equal(fullThrow.known.decided_by, "down");
      assert.equal(chosen.dead_zone, radius);

      // Kept: after a reload it is there, and opens to the same.
      await page.goto(`${address}#/kept`);
      await page.reload();
      await page.getByRole("button", { name: `Open: ${NAME}` }).click();
      await page.getByRole("slider", { name: "Dead zone" }).waitFor();
      await handOver(page);
      assert.deepEqual((await saveSummary(page)).body, summary.body);

      // Link: the address carries everything; the second profile has nothing of ours.
      await page.getByRole("button", { name: "Make a link" }).click();
      const link = await page.getByRole("textbox", { name: "The link" }).inputValue();
      assert.ok(link.length - address.length + 100 <= 2000, `${link.length} characters`);
      assert.ok(!decodeURIComponent(link).includes("Tuesday"), "the name stays out unless asked for");
      const second = await visitor(browser, { address });
      await second.page.goto(link);
      await second.page.getByText("Read-only").first().waitFor();
      if (first) {
        await assertAccessible(second.page, "a shared summary");
        assert.deepEqual(await pictures(second.page, "shared"), []);
      }
      const shared = await saveSummary(second.page);
      assert.deepEqual(canonical(shared), canonical(summary));
      assert.equal(shared.body.label, null);
      const databases = await second.page.evaluate(() => indexedDB.databases());
      assert.deepEqual(databases, [], "who only reads a link keeps nothing");
      second.assertClean();
      await second.close();

      const asked = [...new Set(requests.map(({ method, url }) => `${method} ${url.replace(address, "/")}`))];
      console.log(`every request of this run: ${asked.join(", ")}`);
      assertClean();
      await close();
    });
  }
});

test("a damaged and a foreign link each get a clear message", async () => {
  for (const fragment of ["s1.AAAA", "s1.not!base64", "s999.AAAA"]) {
    const { page, assertClean, close } = await visitor(browser, { address });
    await page.goto(`${address}#${fragment}`);
    // The screen of links comes with the later part; until then the page says that it waits.
    await page.getByRole("main").getByRole("alert").waitFor();
    const text = await page.getByRole("main").textContent();
    assert.match(text, /damaged|cut short|newer/i, `${fragment}: ${text}`);
    await assertAccessible(page, `the link ${fragment}`);
    assertClean();
    await close();
  }
});
