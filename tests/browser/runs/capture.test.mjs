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

/**
 * The bar here only guards against a fault: a machine without a graphics processor, shared with
 * other work, delays the page's timers by itself. The bar of 99.9 % belongs to the long run
 * (`cargo xtask prove capture`), on a machine that does nothing else.
 */
const BAR = 0.95;
const TRIES = 3;

test("a 4 ms stream of random phase is recorded for a minute", { timeout: 400_000 }, async () => {
  let best = 0;
  for (let turn = 1; turn <= TRIES && best < BAR; turn += 1) {
    const { states, caught, share, gaps, phase, seconds } = await capture(browser, address, 60);
    console.log(
      `caught ${caught} of ${states} states in ${seconds.toFixed(1)} s ` +
        `(${(100 * share).toFixed(3)} %), ${gaps} gaps over 12 ms, phase ${phase.toFixed(2)} ms`,
    );
    assert.ok(seconds > 50, `${seconds} s were recorded`);
    assert.ok(states > 12_000, `${states} states came up`);
    best = Math.max(best, share);
  }
  assert.ok(best >= BAR, `only ${(100 * best).toFixed(3)} % was recorded`);
});
