// A person at a scripted stick who plays any task of a plan, whatever is asked, while a helper
// presses the page's controls by keyboard alone.

import { sentence } from "./person.mjs";

const AWAY = { right: [1, 0], left: [-1, 0], up: [0, -1], down: [0, 1] };
const DONE = /^That is enough/;

/** Where a sentence asks to push, as device axes (down is positive, as the interface has it). */
function wayOf(text) {
  const named = Object.keys(AWAY).filter((way) => new RegExp(`\\b${way}\\b`, "i").test(text));
  const length = Math.hypot(...named.reduce((sum, way) => [sum[0] + AWAY[way][0], sum[1] + AWAY[way][1]], [0, 0]));
  return named
    .reduce((sum, way) => [sum[0] + AWAY[way][0], sum[1] + AWAY[way][1]], [0, 0])
    .map((part) => part / (length || 1));
}

/** Waits until the sentence is no longer this one, so long at most. */
async function changed(page, text, milliseconds) {
  const end = Date.now() + milliseconds;
  while (Date.now() < end && (await sentence(page).textContent()) === text) await page.waitForTimeout(40);
}

/**
 * Plays the task that waits to begin, and goes on to what comes next. `keys` is the checking
 * keyboard, `reach` how far this person goes, `effort` what a longer hold costs of 10.
 */
export async function playByKeyboard(page, keys, { stick = 0, reach = 0.7, effort = 2 } = {}) {
  const moveTo = (to, milliseconds) =>
    page.evaluate((all) => window.scriptedStick.moveTo(...all), [to, milliseconds, stick]);
  const press = (button, milliseconds) =>
    page.evaluate((all) => window.scriptedStick.press(...all), [stick, button, milliseconds]);
  const to = ([x, y], length, milliseconds) => moveTo([x * length, y * length], milliseconds);
  await keys.use(/^Begin$/);
  for (const end = Date.now() + 400_000; ; await page.waitForTimeout(40)) {
    const text = await sentence(page).textContent();
    if (DONE.test(text)) break;
    if (Date.now() > end) throw new Error(`the task did not end; it said: ${text}`);
    if (/^Push .*, as far as is comfortable/.test(text)) {
      await to(wayOf(text), reach, 450);
      await page.waitForTimeout(1000);
      await moveTo([0, 0], 350);
      await changed(page, text, 3000);
    } else if (/^Push .*, into the ring/.test(text)) {
      // Outwards in small steps until the ring is met, as by sight.
      for (let share = 0.15; share <= 1; share += 0.05) {
        await to(wayOf(text), share * reach, 60);
        await page.waitForTimeout(120);
        if ((await sentence(page).textContent()) !== text) break;
      }
    } else if (/^Stay in the ring/.test(text)) {
      await changed(page, text, 25_000);
    } else if (/^Move any way/.test(text)) {
      for (const way of Object.values(AWAY)) {
        await to(way, 0.8 * reach, 350);
        await page.waitForTimeout(700);
        await moveTo([0, 0], 300);
        await page.waitForTimeout(700);
      }
    } else if (/^Button \d+:/.test(text)) {
      const button = Number(text.match(/^Button (\d+)/)[1]);
      await page.waitForTimeout(250);
      if (/twice/.test(text)) {
        await press(button, 90);
        await page.waitForTimeout(140);
      }
      await press(button, /hold/.test(text) ? 500 : 90);
      await changed(page, text, 3000);
    } else if (/^How hard/.test(text)) {
      await moveTo([0, 0], 250);
      await keys.use(new RegExp(`^${effort} of 10$`));
      await changed(page, text, 3000);
    } else {
      // Let go, come back, wait, good, rest: the hand is off.
      await moveTo([0, 0], 250);
      await changed(page, text, 1000);
    }
  }
  await keys.use(/^(Next: .*|Done)$/);
}
