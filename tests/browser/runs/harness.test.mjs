// The harness itself: a check that cannot fail checks nothing.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { findings } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

/** A visitor on a plain text file of the same server: our scripts, and no program. */
async function onPlainText(options = {}) {
  const someone = await visitor(browser, { address, ...options });
  await someone.page.goto(`${address}fonts/OFL.txt`);
  return someone;
}

test("a scripted device is hidden until a button is pressed, then sits in its place", async () => {
  const { page, close } = await onPlainText({ scripts: [[scriptedPad, {}]] });
  const seen = await page.evaluate(async () => {
    const events = [];
    addEventListener("gamepadconnected", (event) => events.push(event.gamepad.index));
    window.scriptedStick.connect(2, { axes: 4, buttons: 12 });
    window.scriptedStick.moveTo([0.39, 0], 0, 2);
    const hidden = navigator.getGamepads().map((pad) => pad !== null);
    await window.scriptedStick.press(2, 0, 10);
    const list = navigator.getGamepads();
    const { axes, buttons, mapping, connected } = list[2];
    return {
      hidden,
      events,
      shown: list.map((pad) => pad !== null),
      axes: axes.length,
      buttons: buttons.length,
      mapping,
      connected,
    };
  });
  assert.deepEqual(seen.hidden, new Array(8).fill(false));
  assert.deepEqual(seen.shown, [false, false, true, false, false, false, false, false]);
  assert.deepEqual(seen.events, [2]);
  assert.deepEqual([seen.axes, seen.buttons, seen.mapping, seen.connected], [4, 12, "", true]);
  await close();
});

test("its object changes only with its values, and its times lie on the beat", async () => {
  for (const period of [4, 1000 / 60]) {
    const { page, close } = await onPlainText({ scripts: [[scriptedPad, { period, phase: 1.3 }]] });
    const seen = await page.evaluate(async () => {
      const look = () => navigator.getGamepads()[0];
      const wait = (milliseconds) => new Promise((done) => setTimeout(done, milliseconds));
      window.scriptedStick.connect(0, { shown: true });
      const first = look();
      await wait(80);
      const still = look() === first;
      window.scriptedStick.moveTo([1, -1], 200);
      const times = [];
      const values = [];
      while (values.at(-1) !== 1) {
        const pad = look();
        if (pad.timestamp !== times.at(-1)) {
          times.push(pad.timestamp);
          values.push(pad.axes[0]);
        }
        await wait(0);
      }
      await wait(60);
      return { still, times, values, rests: look().timestamp === times.at(-1) };
    });
    assert.ok(seen.still, "a resting stick keeps its object");
    assert.ok(seen.rests, "a stick at the end of its way keeps its time");
    assert.ok(seen.times.length > 8);
    for (const time of seen.times) {
      const beats = (time - 1.3) / period;
      assert.ok(Math.abs(beats - Math.round(beats)) < 1e-6, `${time} is off the beat of ${period}`);
    }
    const rising = seen.values.every((value, at) => at === 0 || value > seen.values[at - 1]);
    assert.ok(rising, "a way outwards rises");
    await close();
  }
});

test("it tells of what came and went from within a look, once", async () => {
  const { page, close } = await onPlainText({ scripts: [[scriptedPad, {}]] });
  const events = await page.evaluate(() => {
    const events = [];
    let looks = 0;
    const look = () => {
      looks += 1;
      const there = navigator.getGamepads().map((pad) => pad !== null).lastIndexOf(true);
      looks -= 1;
      return there;
    };
    for (const kind of ["gamepadconnected", "gamepaddisconnected"]) {
      addEventListener(kind, ({ gamepad }) => events.push([kind, gamepad.index, looks, look()]));
    }
    window.scriptedStick.connect(1, { shown: true });
    events.push("connected");
    look();
    window.scriptedStick.disconnect(1);
    window.scriptedStick.connect(3, { shown: true });
    events.push("another one");
    look();
    look();
    return events;
  });
  assert.deepEqual(events, [
    "connected",
    ["gamepadconnected", 1, 1, 1],
    "another one",
    ["gamepaddisconnected", 1, 1, 3],
    ["gamepadconnected", 3, 1, 3],
  ]);
  await close();
});

test("it goes and comes back, and can be refused or missing", async () => {
  const { page, close } = await onPlainText({ scripts: [[scriptedPad, {}]] });
  const seen = await page.evaluate(() => {
    let gone = 0;
    addEventListener("gamepaddisconnected", () => (gone += 1));
    window.scriptedStick.connect(0, { shown: true });
    navigator.getGamepads();
    window.scriptedStick.disconnect(0);
    const empty = navigator.getGamepads()[0] === null;
    window.scriptedStick.connect(0, { shown: true });
    return { gone, empty, back: navigator.getGamepads()[0] !== null };
  });
  assert.deepEqual(seen, { gone: 1, empty: true, back: true });
  await close();

  const refused = await onPlainText({ scripts: [[scriptedPad, { refused: true }]] });
  const name = await refused.page.evaluate(() => {
    try {
      navigator.getGamepads();
      return "nothing thrown";
    } catch (error) {
      return error.name;
    }
  });
  assert.equal(name, "SecurityError");
  await refused.close();

  const missing = await onPlainText({ scripts: [[scriptedPad, { missing: true }]] });
  assert.equal(await missing.page.evaluate(() => typeof navigator.getGamepads), "undefined");
  await missing.close();
});

test("its noise has the spread it was given", async () => {
  const { page, close } = await onPlainText({ scripts: [[scriptedPad, { period: 1 }]] });
  const spread = await page.evaluate(async () => {
    window.scriptedStick.connect(0, { shown: true, noise: 0.02, offset: [0.1, 0] });
    const values = new Map();
    const end = performance.now() + 1500;
    while (performance.now() < end) {
      const pad = navigator.getGamepads()[0];
      values.set(pad.timestamp, pad.axes[0]);
      if (values.size % 50 === 0) await new Promise((done) => setTimeout(done, 0));
    }
    const all = [...values.values()];
    const mean = all.reduce((sum, value) => sum + value, 0) / all.length;
    const squares = all.reduce((sum, value) => sum + (value - mean) ** 2, 0);
    return { count: all.length, mean, deviation: Math.sqrt(squares / (all.length - 1)) };
  });
  // Five standard errors to each side: the hash is fixed, the moments looked at are not.
  assert.ok(spread.count > 300, `${spread.count} states`);
  const error = 0.02 / Math.sqrt(spread.count);
  assert.ok(Math.abs(spread.mean - 0.1) < 5 * error, `mean ${spread.mean}`);
  assert.ok(Math.abs(spread.deviation - 0.02) < 5 * (error / Math.SQRT2), `${spread.deviation}`);
  await close();
});

test("a request elsewhere, an error and a broken policy are noticed", async () => {
  const someone = await onPlainText();
  someone.assertClean();
  await someone.page.evaluate(() => {
    const inline = document.createElement("script");
    inline.textContent = "window.ranInline = true";
    document.body.append(inline);
    return fetch("http://127.0.0.1:9/elsewhere").catch(() => {});
  });
  await someone.page.evaluate(() => setTimeout(() => Promise.reject(new Error("planted")), 0));
  await someone.page.waitForTimeout(200);
  assert.equal(await someone.page.evaluate(() => window.ranInline), undefined);
  const text = someone.problems.join("\n");
  assert.match(text, /policy violation: script-src/);
  assert.match(text, /policy violation: connect-src http:\/\/127.0.0.1:9/);
  assert.match(text, /uncaught error: Error: planted/);
  assert.throws(() => someone.assertClean());
  await someone.close();
});

test("a request for what is no file of the page is noticed", async () => {
  const someone = await onPlainText();
  await someone.page.evaluate(() => fetch("OFL.txt?about=somebody"));
  assert.match(someone.problems.join("\n"), /no file of the page: .*about=somebody/);
  assert.throws(() => someone.assertClean());
  await someone.close();
});

test("axe-core finds a planted fault", async () => {
  const { page, close } = await onPlainText();
  await page.evaluate(() => {
    document.documentElement.lang = "en";
    const image = document.createElement("img");
    image.src = "data:,";
    document.body.append(image);
  });
  const found = await findings(page);
  assert.ok(found.some((line) => line.startsWith("image-alt")), found.join("\n"));
  await close();
});
