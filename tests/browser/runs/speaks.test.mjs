// Who is speaking: a game controller, a mouse, a keyboard, and one that sends Escape by itself. The
// browser's own input is real here (trusted events through its debugging interface), the game
// controller is scripted.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { smallTargets } from "../lib/cards.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

async function listening() {
  const visit = await visitor(browser, { address, scripts: [[scriptedPad, { period: 4 }]] });
  const { page } = visit;
  await page.goto(`${address}#/who-speaks`);
  await page.getByRole("button", { name: "Listen", exact: true }).click();
  await page.mouse.move(0, 0);
  await page.getByRole("heading", { level: 1, name: "Touch nothing." }).waitFor();
  return visit;
}

const asked = (page, sentence) => page.getByRole("heading", { level: 1, name: sentence }).waitFor();
const result = (page) => page.getByRole("region", { name: /speak/ });

test("a game controller is heard with its axes and buttons", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await listening();
  await page.evaluate(() => window.scriptedStick.connect(0, { axes: 4, buttons: 12 }));
  await asked(page, "Move the stick.");
  await page.evaluate(async () => {
    // It shows itself with its first button.
    await window.scriptedStick.press(0, 3);
    window.scriptedStick.moveTo([0.5, 0, 0, 0], 200);
    await new Promise((done) => setTimeout(done, 400));
    window.scriptedStick.moveTo([0, -0.4, 0, 0], 200);
    await new Promise((done) => setTimeout(done, 400));
  });
  await page.getByText(/axes 0, 1 moved/).waitFor();
  assert.deepEqual(await pictures(page, "speaks-listening"), []);
  assert.deepEqual(await smallTargets(page, "listening"), []);
  await assertAccessible(page, "listening");
  await page.getByRole("button", { name: "Now the buttons" }).click();
  await asked(page, "Press each button, one after another.");
  await page.evaluate(async () => {
    for (const button of [1, 0, 7]) {
      await window.scriptedStick.press(0, button);
      await new Promise((done) => setTimeout(done, 60));
    }
  });
  await page.getByRole("button", { name: "That is all of them" }).click();
  await page.getByRole("heading", { name: "It speaks as a game controller." }).waitFor();
  await result(page).getByText("buttons 3, 1, 0, 7 were pressed, in this order").waitFor();
  assert.equal(await result(page).getByText(/^Mouse|^Keyboard/).count(), 0);
  await assertAccessible(page, "heard");
  assert.deepEqual(await pictures(page, "speaks-pad"), []);
  // It stays, also after the page was loaded anew.
  await page.goto(`${address}#/stick`);
  await page.getByRole("link", { name: /^Who is speaking/ }).getByText("a game controller").waitFor();
  assertClean();
  await close();
});

test("a stick that speaks as a mouse is caught", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await listening();
  await asked(page, "Move the stick.");
  for (let step = 0; step < 30; step += 1) await page.mouse.move(100 + 6 * step, 500 + 2 * step);
  await page.mouse.wheel(0, 120);
  await page.mouse.down({ button: "right" });
  await page.mouse.up({ button: "right" });
  await page.waitForTimeout(2_200);
  await page.getByRole("button", { name: "Now the buttons" }).click();
  await page.getByRole("button", { name: "That is all of them" }).click();
  await page.getByRole("heading", { name: "It speaks as a mouse." }).waitFor();
  const said = await result(page).getByText(/^Mouse:/).textContent();
  assert.match(said, /the pointer moved \d+ times, \d+ pixels in all; its buttons were pressed once; the wheel turned once/);
  await result(page).getByText(/cannot be measured here as a stick/).waitFor();
  await result(page).getByText(/mode switch is common practice/).waitFor();
  assert.deepEqual(await pictures(page, "speaks-mouse"), []);
  assertClean();
  await close();
});

test("a stick that speaks as a keyboard is caught, and nothing it types is kept or done", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await listening();
  await asked(page, "Move the stick.");
  const here = page.url();
  // Enter and Space on the control that has the focus, and keys that scroll.
  for (const key of ["ArrowLeft", "ArrowLeft", "ArrowUp", "w", "q", "Enter", " ", "PageDown"]) {
    await page.keyboard.press(key);
  }
  await asked(page, "Move the stick.");
  assert.equal(page.url(), here);
  assert.equal(await page.evaluate(() => window.scrollY), 0);
  await page.getByText(/arrow keys 3 times; letters, digits or signs 2 times; Space or Enter 2 times; other keys once/).waitFor();
  await page.getByRole("button", { name: "Now the buttons" }).click();
  await page.getByRole("button", { name: "That is all of them" }).click();
  await page.getByRole("heading", { name: "It speaks as a keyboard." }).waitFor();
  const kept = await page.evaluate(() => document.body.textContent);
  assert.ok(!/Key[A-Z]|ArrowLeft/.test(kept));
  // On the way to the host the same verdict: heard as a keyboard, a hub does not take it.
  await page.getByRole("button", { name: "What gets through to your host" }).click();
  await page.getByRole("radio", { name: /^A hub with two stick ports/ }).check();
  await page.getByRole("heading", { name: "Does it work? will not work" }).waitFor();
  assertClean();
  await close();
});

for (const [key, name] of [["Escape", "Escape"], ["Tab", "Tab"]]) {
  test(`a device that sends ${name} ends the check, and that is evidence`, { timeout: 60_000 }, async () => {
    const { page, assertClean, close } = await listening();
    await asked(page, "Move the stick.");
    await page.keyboard.press(key);
    await page.getByRole("heading", { name: "It speaks as a keyboard." }).waitFor();
    await result(page).getByText(`Keyboard: ${name} once.`).waitFor();
    await result(page).getByText(new RegExp(`^${name} ended the check`)).waitFor();
    // The rest window of the page did not open by it; and keys work as ever.
    assert.equal(await page.getByRole("dialog").count(), 0);
    await page.keyboard.press("Escape");
    await page.getByRole("dialog", { name: "Rest. Nothing is lost." }).waitFor();
    assertClean();
    await close();
  });
}

test("nobody speaks, and the page says what to try", { timeout: 60_000 }, async () => {
  const { page, assertClean, close } = await listening();
  await page.getByRole("button", { name: "Go on", exact: true }).click();
  await page.getByRole("button", { name: "Now the buttons" }).click();
  await page.getByRole("button", { name: "That is all of them" }).click();
  await page.getByRole("heading", { name: "Nobody spoke." }).waitFor();
  await page.getByText("Try another cable, another socket").waitFor();
  assert.deepEqual(await pictures(page, "speaks-nobody"), []);
  assertClean();
  await close();
});
