// A file of kept fittings with made-up recordings, for runs that need a fitting and not its making:
// it is taken in on the Kept screen as a person would, and opened there.

import { readFile } from "node:fs/promises";

const golden = async (name) =>
  JSON.parse(await readFile(new URL(`../../golden/${name}`, import.meta.url), "utf8"));

const WAYS = { right: [1, 0], up: [0, 1], left: [-1, 0], down: [0, -1] };
const CENTRE = { right: 0.02, up: -0.015 };
const REACH = { right: 0.45, up: 0.7, left: 0.8, down: 0.6 };

/** A number in -1..1, the same every time (a linear congruence, Numerical Recipes' constants). */
function noise(seed) {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2147483648 - 1;
  };
}

/** A recording of so many seconds from `start`, 100 states a second, of a way `at(seconds)`. */
function recording(start, seconds, at, spread, random) {
  const samples = [];
  for (let step = 1; step < seconds * 100; step += 1) {
    const [right, up] = at(step / 100);
    const axes = [CENTRE.right + right + spread * random(), -(CENTRE.up + up + spread * random())];
    samples.push({ arrival_seconds: start + step / 100, axes, buttons: [0] });
  }
  return { samples, polled: [{ from_seconds: start, to_seconds: start + seconds }] };
}

/** Repetitions end to end, each of so many seconds. */
function repetitions(start, seconds, cues) {
  return cues.map(({ direction = null, level = null }, at) => ({
    direction,
    level,
    span: { from_seconds: start + at * seconds, to_seconds: start + (at + 1) * seconds },
    outcome: "done",
    mark: null,
    queried_degrees: null,
  }));
}

const times = (count, things) => Array.from({ length: count }, () => things).flat();

/** Out in 0.4 s, there, back in 0.4 s. */
const trip = (time, seconds) => Math.max(0, Math.min(1, time / 0.4, (seconds - 0.1 - time) / 0.4));

function asked(shake) {
  const random = noise(7);
  const directions = Object.keys(WAYS);
  const pushes = times(3, directions.map((direction) => ({ direction })));
  const reaches = pushes.map(({ direction }) => REACH[direction] * (1 + 0.04 * random()));
  const holds = times(2, [0.25, 0.5].flatMap((level) => ["right", "left"].map((direction) => ({ direction, level }))));
  const along = (direction, far) => WAYS[direction].map((share) => share * far);
  return [
    {
      ask: { hands_off: { seconds: 5 } },
      start: 10,
      seconds: 5,
      cues: [{}],
      at: () => [0, 0],
      spread: 0.001,
    },
    {
      ask: { quiet_rest: { seconds: 30 } },
      start: 20,
      seconds: 10,
      cues: times(3, [{}]),
      // Rest that wanders slowly and shakes a little.
      at: (time) => [
        0.02 * Math.sin(time * 0.7) + 0.03 * Math.sin(time * 31),
        0.02 * Math.cos(time * 0.9) + 0.02 * Math.cos(time * 31),
      ],
      spread: shake ?? 0.004,
    },
    {
      ask: { reach: { directions, rounds: 3 } },
      start: 60,
      seconds: 2,
      cues: pushes,
      at: (time) => {
        const push = Math.min(pushes.length - 1, Math.floor(time / 2));
        return along(pushes[push].direction, reaches[push] * trip(time - push * 2, 2));
      },
      spread: 0.004,
    },
    {
      ask: { hold: { directions: ["right", "left"], levels: [0.25, 0.5], rounds: 2, seconds: 3 } },
      start: 90,
      seconds: 3,
      cues: holds,
      at: (time) => {
        const { direction, level } = holds[Math.min(holds.length - 1, Math.floor(time / 3))];
        return along(direction, REACH[direction] * level + 0.01 * Math.sin(time * 9));
      },
      spread: shake ?? 0.01,
    },
  ].map((task) => ({ ...task, random }));
}

/**
 * The file as text: one fitting with four tasks, less those that ask for something of `without`
 * ("quiet_rest", "reach", "hold"). `shake` is how far the hand shakes at rest and in holds, share of
 * travel; smoothing is of use from some hundredths on. `change` may change its visit, which then is
 * one with everything in use.
 */
export async function keptFile({
  label = "Bench, with a fitting",
  device = "Bench stick",
  without = [],
  shake,
  change,
} = {}) {
  const form = change ? "fitting-3.json" : "fitting-1.json";
  const [fitting, task] = await Promise.all([golden(form), golden("task-1.json")]);
  if (change) {
    const { visit } = fitting.body;
    Object.assign(fitting.body, { chosen: null, chosen_aside: [], practised: null });
    // Tasks of the first form are of the first series.
    Object.assign(visit, { set_ups: [visit.set_ups[visit.series_in_use]], series_in_use: 0 });
    fitting.body.stick_kind = { moves: "two_axes", centres_itself: true, force: false, switches: false, mover: "limb" };
    visit.path = { layers: [], named: null };
    visit.papers = { edits: [], diary: [] };
    change(visit);
  }
  const all = asked(shake).filter(({ ask }) => !without.some((kind) => kind in ask));
  Object.assign(fitting.body, { label, tasks: all.length });
  Object.assign(fitting.body.device, { name: device, axes: 2, buttons: 1 });
  const tasks = all.map(({ ask, start, seconds, cues, at, spread, random }, order) => {
    const one = structuredClone(task);
    one.id = `0f3a-8${order}`;
    one.body.fitting = fitting.id;
    one.body.order = order;
    Object.assign(one.body.record, {
      ask,
      recording: recording(start, seconds * cues.length, at, spread, random),
      repetitions: repetitions(start, seconds, cues),
      pauses: [],
      muscle_seconds: 0,
    });
    return one;
  });
  const { core } = fitting;
  return JSON.stringify({ kind: "kept", schema: 1, core, made: fitting.made, fittings: [fitting], tasks });
}

/** Takes the file in and opens its fitting; afterwards the settings are shown. */
export async function openKept(page, address, wish = {}) {
  await page.goto(`${address}#/kept`);
  await page.getByRole("heading", { name: "Kept fittings", level: 1 }).waitFor();
  const buffer = Buffer.from(await keptFile(wish));
  await page
    .locator("#file")
    .setInputFiles({ name: "kept.json", mimeType: "application/json", buffer });
  await page.getByText("1 fitting was added.").waitFor();
  await page.getByRole("button", { name: /^Open: / }).first().click();
  await page.getByRole("slider", { name: "Dead zone" }).waitFor();
}
