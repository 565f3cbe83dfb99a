// Raw reports: what a device says of itself, raw beside shown, and measuring with them, with a
// scripted `navigator.hid` beside the scripted gamepad.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo, smallTargets } from "../lib/cards.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { pictures } from "../lib/screens.mjs";
import { scriptedHid } from "../lib/scripted-hid.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

async function visit(hid, { choose = true } = {}) {
  const scripts = [[scriptedPad, { period: 4 }], [scriptedHid, hid]];
  const visit = await visitor(browser, { address, scripts });
  const { page } = visit;
  await page.goto(`${address}#/stick`);
  await page.evaluate(() => {
    window.scriptedStick.connect(0, { axes: 2 });
    return window.scriptedStick.press(0, 0);
  });
  if (choose) await page.getByRole("button", { name: /^Scripted stick/ }).click();
  await page.getByRole("link", { name: /^What gets through/ }).click();
  await page.getByRole("heading", { name: "The raw reports" }).waitFor();
  return visit;
}

const ASK = "Ask the browser for the raw reports";
const ask = (page) => page.getByRole("button", { name: ASK }).click();
const status = (page, text) => page.getByRole("status").filter({ hasText: text }).waitFor();

/** Out and back on each axis, at a third of the travel to one side in a second. */
async function slowly(page, times = 1) {
  await page.evaluate(async (times) => {
    const { move } = window.scriptedHid;
    for (let time = 0; time < times; time += 1) {
      for (const to of [[1, 0], [0, 0], [-1, 0], [0, 0], [0, 1], [0, 0], [0, -1], [0, 0]]) {
        await move(to, 3000);
      }
    }
  }, times);
}

test("a hidden middle is found, the rate is right, and it can be measured with", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await visit({ middle: 0.125, end: 0.1 });
  const keys = keyboard(page);
  await keys.use(new RegExp(`^${ASK}$`));
  await status(page, "Reading the reports of Scripted stick.");
  const asked = await page.evaluate(() => window.scriptedHid.asked());
  assert.deepEqual(asked[0].filters, [4, 5, 8].map((usage) => ({ usagePage: 1, usage })));
  await page.getByText("a joystick (USB usage page 1, usage 4)", { exact: true }).waitFor();
  await page.getByRole("row", { name: "Y 8 0 to 255 127.5" }).waitFor();
  await page.getByText("4 buttons.", { exact: true }).waitFor();
  await page.getByText("Report from the device: 3 bytes.").waitFor();
  await page.getByText(/Middle, up: not enough recorded yet/).waitFor();
  await slowly(page);

  // The shown axes go by usage, the report by its own order: by movement, Y is shown as axis 1.
  const found = page.getByRole("listitem").filter({ hasText: /of the middle the stick moves/ });
  await found.waitFor();
  const middles = [...(await found.textContent()).matchAll(/([\d.]+)\s%\s(up|down)/g)].map((one) => Number(one[1]));
  assert.equal(middles.length, 2);
  for (const middle of middles) assert.ok(Math.abs(middle - 12.5) < 1.5, `hidden ${middle} %, not 12.5 %`);
  await page.getByText("The two moved together, so they are held to be the same.").waitFor();
  assert.equal(await page.getByRole("combobox", { name: "Shown by the browser as" }).inputValue(), "1");
  const cut = await page.getByText(/End, down: the last/).textContent();
  assert.ok(Math.abs(Number(/([\d.]+)\s%/.exec(cut)[1]) - 10) < 1.5, cut);
  const rate = await page.getByText(/reports a second while it moves/).textContent();
  const perSecond = Number(/About (\d+)/.exec(rate)[1]);
  assert.ok(Math.abs(perSecond - 125) <= 5, rate);
  await page.getByRole("combobox", { name: "Which axis" }).selectOption("1");
  await page.getByText(/% left.*% right.*of the middle/).waitFor();
  const step = await page.getByText(/Smallest step, right:/).textContent();
  assert.match(step, /as reported 0\.784\s% of the way; as shown 1\.012\s% of the way/);
  assert.deepEqual(await pictures(page, "raw"), []);
  assert.deepEqual(await smallTargets(page, "raw"), []);
  await assertAccessible(page, "raw reports");

  // Measured with: the field follows, with nothing hidden.
  await keys.use(/^Measure with the raw reports$/);
  await page.locator("header a[href='#/stick']").click();
  await page.getByRole("heading", { name: /Live Scripted stick, raw reports/ }).waitFor();
  await page.evaluate(() => window.scriptedHid.move([0.1, 0], 200));
  const bars = page.getByRole("region", { name: "Axes" });
  await bars.getByText("+0.098").waitFor();
  // Y comes first in the report; across is X all the same.
  await page.getByText(/10\s% right/).waitFor();
  assert.deepEqual(await pictures(page, "raw-stick"), []);
  await page.evaluate(() => window.scriptedHid.press(2));
  await page.getByText("1: 1.00").waitFor();
  await page.evaluate(() => window.scriptedHid.disconnect());
  await page.getByText(/The stick is gone/).waitFor();
  // What was seen stays, and is held against hosts.
  await goTo(page, "what-gets-through");
  await page.getByRole("radio", { name: "The raw reports: a joystick (USB usage page 1, usage 4)" }).check();
  await page.getByRole("radio", { name: /^A hub with two stick ports/ }).check();
  await page.getByText(/Movement inside 1[1-4]\s% of the middle is hidden/).first().waitFor();
  assert.equal(await page.evaluate(() => window.scriptedHid.written), 0);
  assertClean();
  await close();
});

test("where nothing is hidden it says so; leaving closes the device", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visit({ middle: 0, end: 0, bits: 16, allowed: true });
  await page.getByRole("button", { name: "Read Scripted stick, which was allowed before" }).click();
  await status(page, "Reading the reports of Scripted stick.");
  await slowly(page);
  await page.getByText(/Middle, up: nothing is hidden/).waitFor();
  await page.getByText(/Middle, down: nothing is hidden/).waitFor();
  await page.getByText(/End, down: nothing is cut/).waitFor();
  await page.getByRole("link", { name: /Settings/ }).first().click();
  await page.waitForFunction(() => window.scriptedHid.closed === 1);
  assertClean();
  await close();
});

test("no interface, a no, nothing chosen, a device that does not open", { timeout: 120_000 }, async () => {
  const cases = [
    [{ missing: true }, null, "This browser has no way to read raw reports; everything else here works without."],
    [{ denied: true }, ASK, "The browser or the system did not allow it"],
    [{ cancelled: true }, ASK, "No device was chosen, so nothing is read."],
    [{ cancelled: true }, "Not in the list? Show any device", "No device was chosen, so nothing is read."],
    [{ shut: true }, ASK, "The device could not be opened."],
  ];
  for (const [hid, button, said] of cases) {
    const { page, assertClean, close } = await visit(hid, { choose: false });
    if (button) await keyboard(page).use(new RegExp(`^${button.replace("?", "\\?")}$`));
    await status(page, said);
    if (hid.missing) assert.equal(await page.getByRole("button", { name: ASK }).count(), 0);
    if (/any device/.test(button)) {
      assert.deepEqual((await page.evaluate(() => window.scriptedHid.asked()))[0].filters, []);
    }
    if (hid.denied) assert.deepEqual(await pictures(page, "raw-denied"), []);
    assertClean();
    await close();
  }
});

test("a hostile device does no harm", { timeout: 120_000 }, async () => {
  for (const hostile of ["many", "cycle", "throws"]) {
    const { page, assertClean, close } = await visit({ hostile }, { choose: false });
    await ask(page);
    await status(page, "What was chosen says nothing that could be read as a stick");
    assertClean();
    await close();
  }
  const { page, assertClean, close } = await visit({ hostile: "name" }, { choose: false });
  await ask(page);
  await status(page, "Reading the reports of <img src=x");
  const said = await page.getByRole("status").filter({ hasText: "Reading the reports" }).textContent();
  assert.ok(said.length < 120 && !/[\u202e\u2066]/.test(said), said);
  assert.equal(await page.locator("main img").count(), 0);
  await page.evaluate(() => {
    const { report } = window.scriptedHid;
    for (const [id, bytes] of [[0, []], [0, [1]], [9, [1, 2, 3]], [300, [1]], [-1, [1]], [0, null], ["x", [1, 2, 3]]]) {
      report(id, bytes);
    }
    report(0, new Array(100_000).fill(255));
  });
  await page.getByRole("row", { name: "Y 8 0 to 255 127.5" }).waitFor();
  assert.deepEqual(await pictures(page, "raw-hostile"), []);
  await page.evaluate(() => window.scriptedHid.disconnect());
  await status(page, "The device is gone.");
  assert.equal(await page.evaluate(() => window.scriptedHid.written), 0);
  assertClean();
  await close();
});
