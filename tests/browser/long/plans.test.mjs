// The three plans that ship, each run whole: a scripted device moves the stick, and every control
// of the page is pressed by keyboard. What was measured goes into the file named by PLANS_RESULT.

import assert from "node:assert/strict";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { after, before, describe, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo } from "../lib/cards.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { nextOfPlan } from "../lib/plan.mjs";
import { playByKeyboard } from "../lib/player.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

/** What the plan counts for reading what a task asks, and for a pause between bursts, seconds. */
const READY_SECONDS = 5;
const PAUSE_SECONDS = 20;

const PLANS = [
  { name: "adult", way: /^told in words/, minutes: 15, downs: 0 },
  { name: "shown", way: /^shown instead/, minutes: 10, downs: 1 },
  { name: "tires", way: /^tires soon/, minutes: 6, downs: 2 },
];

let browser;
let address;
const bars = [];
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(async () => {
  await browser?.close();
  console.log(bars);
  const { PLANS_RESULT: file } = process.env;
  if (!file) return;
  await mkdir(dirname(file), { recursive: true });
  await writeFile(file, `${JSON.stringify(bars, null, 2)}\n`);
});

/** The seconds that a line like "2 min 10 s" or "40 s" says. */
function seconds(text) {
  return 60 * Number(text.match(/(\d+)\smin/)?.[1] ?? 0) + Number(text.match(/(\d+)\ss\b/)?.[1] ?? 0);
}

/** What the plan on screen says it takes: its rows and the pauses between them. */
async function said(page) {
  const rows = await page.getByRole("main").locator("ol.plan li").allTextContents();
  const cost = /(?:\d+\smin\s)?\d+\s(?:s|min), (?:no|(?:\d+\smin\s)?\d+\s(?:s|min) of it) muscle work/;
  const costs = rows.flatMap((row) => row.match(cost)?.[0] ?? []);
  const pauses = rows.filter((row) => row.startsWith("A pause")).length;
  const sum = (of) => costs.map(of).reduce((all, one) => all + one, 0);
  return {
    tasks: costs.length,
    seconds: sum((cost) => seconds(cost.split(",")[0])) + PAUSE_SECONDS * pauses,
    muscle: sum((cost) => seconds(cost.split(",")[1])),
  };
}

/** What the tasks took, counted as the plan counts. */
async function took(page) {
  await goTo(page, "kept");
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: /^Save everything/ }).click();
  const { tasks } = JSON.parse(await readFile(await (await download).path(), "utf8"));
  const records = tasks.map((task) => task.body.record);
  // Nobody pauses within a task here.
  const elapsed = ({ recording: { polled } }) => polled.at(-1).to_seconds - polled[0].from_seconds;
  return {
    tasks: records.length,
    seconds: records.reduce((sum, record) => sum + elapsed(record) + READY_SECONDS, 0),
    muscle: records.reduce((sum, record) => sum + record.muscle_seconds, 0),
  };
}

describe("the plans that ship", { concurrency: 3 }, () => {
  for (const plan of PLANS) {
    test(`${plan.name}, ${plan.minutes} minutes`, { timeout: 2_400_000 }, async () => {
      const scripts = [[scriptedPad, { period: 4 }]];
      const { page, assertClean, close } = await visitor(browser, { address, scripts });
      const keys = keyboard(page);
      await page.goto(`${address}#/stick`);
      await page.getByRole("heading", { name: "Which stick?" }).waitFor();
      await page.evaluate(() => {
        window.scriptedStick.connect(0, { axes: 2, buttons: 2, noise: 0.004 });
        return window.scriptedStick.press(0, 0);
      });
      await page.getByRole("button", { name: /^Scripted stick/ }).waitFor();
      await keys.press("Tab");
      await keys.use(/^Scripted stick/);
      await keys.use(/^Go on to measuring/);
      await page.getByRole("heading", { level: 1, name: /minutes/ }).waitFor();
      await keys.to(/^told in words/);
      for (let down = 0; down < plan.downs; down += 1) await keys.press("ArrowDown");
      assert.ok(await page.getByRole("radio", { name: plan.way }).isChecked());
      await keys.use(new RegExp(`^${plan.minutes} minutes`));
      const before = await said(page);
      assert.ok(before.tasks > 3 && before.seconds <= 60 * plan.minutes, JSON.stringify(before));

      const start = async (button) => {
        const name = (await button.textContent()).trim();
        await keys.use(new RegExp(`^${name}$`), "Enter", { back: true });
      };
      const kinds = [];
      let pauses = 0;
      const notice = async (button) => {
        if (await page.getByText(/^Time for a pause/).isVisible()) pauses += 1;
        await start(button);
      };
      for (let kind; (kind = await nextOfPlan(page, notice)); ) {
        kinds.push(kind);
        await playByKeyboard(page, keys);
      }
      const after = await took(page);
      assert.equal(after.tasks, kinds.length);
      const time = (after.seconds + PAUSE_SECONDS * pauses) / before.seconds;
      const muscle = after.muscle / before.muscle;
      console.log(`${plan.name}: ${JSON.stringify({ before, after, pauses, time, muscle, kinds })}`);
      for (const [what, measured] of [["time", time], ["muscle work", muscle]]) {
        const name = `${plan.name}: ${what} taken, share of what was said`;
        bars.push({ name, measured, side: "at_most", bar: 1.1 });
        bars.push({ name, measured, side: "at_least", bar: 0.9 });
      }
      assertClean();
      await close();
    });
  }
});
