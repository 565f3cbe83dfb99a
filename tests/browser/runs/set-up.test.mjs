// Where the person and the stick are: a series for each set-up, and the body part that moves the
// stick, looked for on a scripted device whose truth is known.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo, openCard, say, smallTargets } from "../lib/cards.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { sentence } from "../lib/person.mjs";
import { pictures } from "../lib/screens.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const PHONE = { width: 390, height: 844 };

/** Types into a field and leaves it, as the page takes a change. */
async function tell(place, name, text) {
  const field = place.getByRole("textbox", { name, exact: true });
  await field.fill(text);
  await field.blur();
}

/** Everything kept, as a file. */
async function saveAll(page) {
  await goTo(page, "kept");
  const download = page.waitForEvent("download");
  await page.getByRole("button", { name: /^Save everything/ }).click();
  return JSON.parse(await readFile(await (await download).path(), "utf8"));
}

test("a change of set-up starts a new series, and the old one is still there", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address, size: PHONE });
  await openKept(page, address);
  for (const button of await page.getByRole("button", { name: "All as suggested" }).all()) {
    await button.click();
  }
  // A setting by hand, which nothing recorded could bring back.
  const slider = page.getByRole("slider", { name: "Dead zone" });
  const suggested = await slider.getAttribute("aria-valuetext");
  for (const key of ["ArrowRight", "ArrowRight", "ArrowRight"]) await slider.press(key);
  const deadZone = await slider.getAttribute("aria-valuetext");
  assert.notEqual(deadZone, suggested);
  await goTo(page, "set-up");
  await page.getByText("4 tasks were recorded with this set-up.").waitFor();

  // Told late: it was so all along.
  await tell(await openCard(page, "The person"), "Seat", "Own chair");
  await page.getByText(/a new series began/).waitFor();
  await page.getByRole("button", { name: "It was so all along: correct series 1" }).click();
  await page.getByText("4 tasks were recorded with this set-up.").waitFor();
  assert.equal(await page.getByText("Other series of this fitting").count(), 0);

  // The drawing follows the numbers; a first number after a task is another set-up.
  const stick = await openCard(page, "Where the stick is");
  await tell(stick, "Measured from", "left arm rest");
  for (const [name, number] of [["Forward or back (mm)", "120"], ["Up or down (mm)", "40"]]) {
    await stick.getByRole("spinbutton", { name, exact: true }).fill(number);
    await stick.getByRole("spinbutton", { name, exact: true }).blur();
  }
  await stick.getByRole("combobox", { name: "Up or down (mm): which way" }).selectOption("down");
  await page.getByText(/a new series began/).waitFor();
  await page.getByText("In use: series 2 of 2, nothing recorded with it yet.").waitFor();
  await page.locator("#place").waitFor();
  const drawing = page.locator("section[aria-labelledby=place]");
  await drawing.getByText(/40\s?mm down/).first().waitFor();
  assert.match(await drawing.textContent(), /120\s?mm forward/);
  assert.deepEqual(await pictures(page, "set-up-series"), []);

  // No figure is taken over.
  await goTo(page, "settings");
  assert.equal(await page.getByRole("slider", { name: "Dead zone" }).count(), 0);

  // The old one: listed, looked at, gone back to; also after a reload.
  const all = await saveAll(page);
  assert.equal(all.tasks.length, 4);
  assert.deepEqual([...new Set(all.tasks.map((task) => task.body.series))], [0]);
  assert.equal(all.fittings[0].body.visit.series_in_use, 1);
  assert.equal(all.fittings[0].body.visit.set_ups[1].up_mm, -40);
  await page.goto(`${address}#/kept`);
  await page.reload();
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.getByRole("heading", { name: "Before anything moves" }).waitFor();
  await goTo(page, "set-up");
  await page.getByText("In use: series 2 of 2, nothing recorded with it yet.").waitFor();
  const old = await openCard(page, "Series 1");
  await old.getByText("Own chair").first().waitFor();
  await old.getByRole("button", { name: "What it came to: Series 1" }).click();
  await old.getByRole("row", { name: /Dead zone.*%/ }).waitFor();
  await assertAccessible(page, "an earlier series");
  assert.deepEqual(await smallTargets(page, "set-up"), []);
  assert.deepEqual(await pictures(page, "set-up-earlier"), []);
  await old.getByRole("button", { name: "Go on with this set-up: Series 1" }).click();
  await page.getByText("4 tasks were recorded with this set-up.").waitFor();
  await goTo(page, "settings");
  const back = page.getByRole("slider", { name: "Dead zone" });
  await back.waitFor();
  assert.equal(await back.getAttribute("aria-valuetext"), deadZone);
  assertClean();
  await close();
});

const STICK = 1;

/** Moves out and back until the page has enough: every 1.2 s to where `end` says. */
async function moveAbout(page, end) {
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await sentence(page).filter({ hasText: /^Move any way you like/ }).waitFor();
  for (let trip = 0; !/^That is enough/.test(await sentence(page).textContent()); trip += 1) {
    assert.ok(trip < 60, "the movement did not end");
    await page.evaluate(([to, stick]) => window.scriptedStick.moveTo(to, 350, stick), [end(trip), STICK]);
    await page.waitForTimeout(600);
    await page.evaluate((stick) => window.scriptedStick.moveTo([0, 0], 350, stick), STICK);
    await page.waitForTimeout(600);
  }
  await page.getByRole("button", { name: "Done", exact: true }).click();
}

test("body parts are moved, measured and compared, and warnings stay in sight", { timeout: 300_000 }, async () => {
  const scripts = [[scriptedPad, { period: 4 }]];
  const { page, assertClean, close } = await visitor(browser, { address, scripts, size: PHONE });
  await page.goto(`${address}#/today`);
  await page.getByRole("combobox", { name: "Fatigue" }).selectOption("2");
  await goTo(page, "sites");
  await page.getByText(/^To record the movement, choose a stick first/).waitFor();
  await page.evaluate((stick) => {
    window.scriptedStick.connect(stick, { noise: 0.002 });
    return window.scriptedStick.press(stick, 0);
  }, STICK);
  await page.getByRole("link", { name: "Choose a stick" }).click();
  await page.getByRole("button", { name: /^Scripted stick/ }).click();
  await goTo(page, "sites");

  const site = (number) => page.getByRole("group", { name: `Body part ${number}`, exact: true });
  const answer = async (place, answers) => {
    const questions = [
      "Can it be made again and again?",
      "Is it comfortable?",
      "Does the screen stay in view?",
      "Does it set off spasm?",
      "Is it the only movement the person has for speaking, driving or calling?",
    ];
    for (const [at, question] of questions.entries()) {
      if (answers[at]) await say(place, question, answers[at]);
    }
  };

  // The first goes the same way again and again.
  await tell(site(1), "Which body part", "Left hand");
  await site(1).getByRole("button", { name: /^Move for/ }).click();
  await moveAbout(page, () => [0.6, 0]);
  await site(1).getByText(/repeats well: \d+ went to the right/).waitFor();
  await site(1).getByText(/right 60\s?% of travel/).waitFor();
  await answer(site(1), ["yes", "yes", "yes", "no", "no"]);

  // The second goes anywhere, and is the only way to speak.
  await page.getByRole("button", { name: "Look at another body part" }).click();
  await tell(site(2), "Which body part", "Chin");
  await site(2).getByRole("button", { name: /^Move for/ }).click();
  await moveAbout(page, (trip) => {
    const turn = trip * 2.399;
    const far = 0.3 + 0.5 * ((trip * 0.618) % 1);
    return [far * Math.cos(turn), far * Math.sin(turn)];
  });
  await site(2).getByText(/times in/).waitFor();
  await answer(site(2), [null, "yes", "yes", "no", "yes"]);

  const beside = page.getByRole("main");
  await beside.getByText(/^Left hand: nothing warns of it/).waitFor();
  await beside.getByText(/only movement for speaking, driving or calling: playing with it/).waitFor();
  await assertAccessible(page, "body parts compared");
  assert.deepEqual(await smallTargets(page, "sites"), []);
  assert.deepEqual(await pictures(page, "sites"), []);

  // The choice is theirs, also of the one with a warning.
  await page.getByRole("button", { name: "Take this one: Chin" }).click();
  await page.getByText(/^Chin stands in the set-up now/).waitFor();
  await page.getByRole("button", { name: "Take this one: Chin", pressed: true }).waitFor();
  await beside.getByText(/only movement for speaking, driving or calling: playing with it/).waitFor();

  // After a minute of muscle work the day is asked again; a rise of two offers to stop.
  await site(1).getByRole("button", { name: /^Move again for/ }).click();
  await moveAbout(page, () => [0.6, 0]);
  await site(1).getByRole("button", { name: /^Move again for/ }).click();
  await moveAbout(page, () => [0.6, 0]);
  await page.getByText("Some muscle work is done. How is it now?").waitFor();
  await page.getByRole("combobox", { name: "Fatigue now" }).selectOption("4");
  await page.getByRole("button", { name: "Done", exact: true }).click();
  await page.getByText(/^Fatigue rose by 2 points of ten/).waitFor();
  await assertAccessible(page, "the offer to stop");
  await page.getByRole("button", { name: "Stop for today" }).click();
  await page.getByRole("dialog", { name: "Rest. Nothing is lost." }).waitFor();
  await page.keyboard.press("Escape");
  await page.getByRole("button", { name: "Go on all the same" }).click();
  await page.getByText(/^Fatigue rose by/).waitFor({ state: "detached" });

  // Kept with the body part it is of, and in no figure of the assessment.
  const saved = await saveAll(page);
  const inOrder = saved.tasks.toSorted((one, other) => one.body.order - other.body.order);
  assert.deepEqual(inOrder.map((task) => task.body.site), [0, 1, 0, 0]);
  assert.deepEqual(saved.fittings[0].body.visit.sites.map((one) => one.body_part), ["Left hand", "Chin"]);
  assert.equal(saved.fittings[0].body.visit.set_ups.at(-1).body_part, "Chin");
  await goTo(page, "settings");
  assert.equal(await page.getByRole("slider", { name: "Dead zone" }).count(), 0);
  assertClean();
  await close();
});
