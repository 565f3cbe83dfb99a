// A person at a scripted stick: reads the one large sentence, as a player would, and moves.

/** Where a sentence asks to push, as device axes (down is positive, as the interface has it). */
const WAYS = [
  [/up and right|right and up/i, [Math.SQRT1_2, -Math.SQRT1_2]],
  [/up and left|left and up/i, [-Math.SQRT1_2, -Math.SQRT1_2]],
  [/down and right|right and down/i, [Math.SQRT1_2, Math.SQRT1_2]],
  [/down and left|left and down/i, [-Math.SQRT1_2, Math.SQRT1_2]],
  [/\bright\b/i, [1, 0]],
  [/\bleft\b/i, [-1, 0]],
  [/\bup\b/i, [0, -1]],
  [/\bdown\b/i, [0, 1]],
];

function asked(sentence) {
  const found = WAYS.find(([pattern]) => pattern.test(sentence));
  if (!found) throw new Error(`no direction in: ${sentence}`);
  return found[1];
}

/** The large sentence. */
export function sentence(page) {
  return page.getByRole("main").getByRole("heading", { level: 1 });
}

/**
 * Plays one task to its end: presses Begin, does what is asked, and goes on to what comes next.
 *
 * `stick` is the place of the scripted device, `behaviour` how it behaves during this task (noise,
 * tremor), `reach` how far this person goes in a direction given as [x, y].
 */
export async function playTask(page, { stick, behaviour, reach }) {
  const moveTo = (to, milliseconds) =>
    page.evaluate((all) => window.scriptedStick.moveTo(...all), [to, milliseconds, stick]);
  await page.evaluate((all) => window.scriptedStick.change(...all), [behaviour, stick]);
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  const told = [];
  for (const end = Date.now() + 300_000; ; await page.waitForTimeout(50)) {
    if (Date.now() > end) throw new Error(`the task did not end; it said: ${told.join(" / ")}`);
    const text = await sentence(page).textContent();
    if (text === told.at(-1)) continue;
    told.push(text);
    if (/^That is enough/.test(text)) break;
    if (/^Push .* comfortable/.test(text)) {
      const [x, y] = asked(text);
      await moveTo([x * reach([x, y]), y * reach([x, y])], 500);
      await page.waitForTimeout(1100);
      await moveTo([0, 0], 400);
    } else if (/into the ring/.test(text)) {
      const [x, y] = asked(text);
      // Outwards in small steps until the ring is met, as by sight.
      for (let share = 0.1; share <= 1; share += 0.05) {
        const length = share * reach([x, y]);
        await moveTo([x * length, y * length], 60);
        await page.waitForTimeout(250);
        if ((await sentence(page).textContent()) !== text) break;
      }
    } else if (!/^Stay in the ring/.test(text)) {
      // Let go, come back, wait, good: the hand is off the ring.
      await moveTo([0, 0], 300);
    }
  }
  await page.getByRole("button", { name: /^Next: |^Done$/ }).click();
  return told;
}
