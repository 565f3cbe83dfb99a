// The browser killed at many moments of a task; what was measured goes into the file named by
// KILLS_RESULT.

import { mkdir, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { killedAt } from "../lib/killed.mjs";

const KILLS = Number(process.env.KILLS ?? 50);

/** Spread over the first eight seconds, the same in each run: multiples of the golden section. */
const moment = (number) => 0.6 + ((number * 0.6180339887) % 1) * 7.4;

test(`killed ${KILLS} times`, { timeout: KILLS * 60_000 }, async () => {
  const address = await pageAddress();
  const all = [];
  for (let number = 0; number < KILLS; number += 1) {
    const found = await killedAt(address, moment(number));
    console.log(`${number + 1}: ${found.lost.toFixed(2)} s of ${found.ran.toFixed(2)} s lost, ${found.tasks} tasks`);
    all.push(found);
  }
  const most = (of) => Math.max(...all.map(of));
  const bars = [
    { name: "kills", measured: all.length, side: "at_least", bar: KILLS },
    { name: "most of a recording lost, seconds", measured: most(({ lost }) => lost), side: "at_most", bar: 1 },
    { name: "kept tasks lost", measured: most(({ tasks }) => 2 - tasks), side: "at_most", bar: 0 },
  ];
  console.log(bars);
  const { KILLS_RESULT: file } = process.env;
  if (file) {
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, `${JSON.stringify(bars, null, 2)}\n`);
  }
});
