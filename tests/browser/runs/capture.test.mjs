// A 4 ms stream with a phase of its own, recorded by the page for a minute.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch } from "../lib/browser.mjs";
import { capture, count } from "../lib/capture.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

test("states that were missed are counted as missed", () => {
  const sample = (number) => ({ arrival_seconds: number * 0.004, axes: [(number % 4096) / 2048 - 1] });
  const all = Array.from({ length: 5000 }, (_, number) => sample(number + 1));
  const polled = [{ from_seconds: 0, to_seconds: 30 }];
  assert.equal(count({ samples: all, polled }).share, 1);
  const some = all.filter((_, at) => at % 100 !== 50);
  const counted = count({ samples: some, polled });
  assert.equal(counted.states, 4999);
  assert.equal(counted.caught, 4949);
});

test("at least 99.9 % of a minute of a 4 ms stream is recorded", { timeout: 240_000 }, async () => {
  const { states, caught, share, gaps, phase, seconds } = await capture(browser, address, 60);
  console.log(
    `caught ${caught} of ${states} states in ${seconds.toFixed(1)} s (${(100 * share).toFixed(3)} %), ` +
      `${gaps} gaps over 12 ms, phase ${phase.toFixed(2)} ms`,
  );
  assert.ok(seconds > 50, `${seconds} s were recorded`);
  assert.ok(states > 12_000, `${states} states came up`);
  assert.ok(share >= 0.999, `only ${(100 * share).toFixed(3)} % was recorded`);
});
