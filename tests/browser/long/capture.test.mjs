// The capture run at length; what it measured goes into the file named by CAPTURE_RESULT.

import { mkdir, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch } from "../lib/browser.mjs";
import { capture } from "../lib/capture.mjs";

const SECONDS = Number(process.env.CAPTURE_SECONDS ?? 300);

test(`a 4 ms stream over ${SECONDS} s`, { timeout: (SECONDS + 300) * 1000 }, async () => {
  const browser = await launch();
  const { share, seconds, gaps } = await capture(browser, await pageAddress(), SECONDS);
  await browser.close();
  const bars = [
    { name: "share of states recorded", measured: share, side: "at_least", bar: 0.999 },
    { name: "length recorded, seconds", measured: seconds, side: "at_least", bar: SECONDS * 0.95 },
    { name: "gaps over 12 ms a minute", measured: (gaps * 60) / seconds, side: "at_most", bar: 6 },
  ];
  console.log(bars);
  const { CAPTURE_RESULT: file } = process.env;
  if (file) {
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, `${JSON.stringify(bars, null, 2)}\n`);
  }
});
