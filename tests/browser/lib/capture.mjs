// How much of a device's stream the page records: a scripted stick that tells the number of each
// of its states, a quiet rest, and the recording saved as a file.

import { readFile } from "node:fs/promises";

import { visitor } from "./browser.mjs";
import { scriptedPad } from "./scripted-pad.mjs";
import { samplesOf } from "./recording.mjs";

/** Pauses of polling shorter than this are losses; longer ones end a stretch (the task paused). */
const PAUSE_SECONDS = 0.25;

/** Records so many seconds of a 4 ms stream and counts: { states, caught, share, gaps, phase }. */
export async function capture(browser, address, seconds) {
  const phase = Math.random() * 4;
  const scripts = [[scriptedPad, { period: 4, phase }]];
  const { page, assertClean, close } = await visitor(browser, { address, scripts });
  await page.goto(`${address}#/stick`);
  await page.getByRole("heading", { name: "Which stick?" }).waitFor();
  await page.evaluate(() => {
    window.scriptedStick.connect(1, { counting: true });
    return window.scriptedStick.press(1, 0);
  });
  await page.getByRole("button", { name: /^Scripted stick/ }).click();
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByRole("button", { name: /^3 minutes/ }).click();
  await page.getByRole("button", { name: "Start: Quiet rest" }).click();
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  const done = page.getByRole("heading", { name: /^That is enough/ });
  await done.waitFor({ timeout: 60_000 });
  for (let recorded = 30; recorded < seconds; recorded += 30) {
    await page.getByRole("button", { name: "Half a minute more" }).click();
    await done.waitFor({ state: "detached" });
    await done.waitFor({ timeout: 60_000 });
  }
  // The next step of the plan keeps this task.
  await page.getByRole("button", { name: /^Next: |^Done$/ }).click();
  await page.goto(`${address}#/hand-over`);
  await page.getByText(/^Kept in this browser at/).waitFor();
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: "Save the fitting with its recordings" }).click();
  const saved = JSON.parse(await readFile(await (await download).path(), "utf8"));
  assertClean();
  await close();
  const rest = saved.tasks.map((task) => task.body.record).find((record) => "quiet_rest" in record.ask);
  if (!rest) throw new Error("the saved file holds no quiet rest");
  return { ...count(rest.recording), phase };
}

/** Counts states that came up and states that were caught, within stretches of polling. */
export function count(recording) {
  const { polled } = recording;
  const samples = samplesOf(recording);
  const stretches = [];
  for (const span of polled) {
    const last = stretches.at(-1);
    if (last && span.from_seconds - last.to_seconds < PAUSE_SECONDS) last.to_seconds = span.to_seconds;
    else stretches.push({ ...span });
  }
  let states = 0;
  let caught = 0;
  let seconds = 0;
  for (const { from_seconds: from, to_seconds: to } of stretches) {
    const inside = samples.filter(({ arrival_seconds: at }) => at >= from && at <= to);
    const numbers = inside.map(({ axes }) => Math.round((axes[0] + 1) * 2048));
    if (numbers.length < 2) continue;
    // Numbers run from 0 to 4095 and begin again, every 16 seconds.
    for (let at = 1; at < numbers.length; at += 1) {
      states += (numbers[at] - numbers[at - 1] + 4096) % 4096;
      caught += 1;
    }
    seconds += to - from;
  }
  if (states === 0) throw new Error("nothing was recorded");
  return { states, caught, share: caught / states, seconds, gaps: polled.length - stretches.length };
}
