// Before anything moves: every caution for its answer, consent and what a no means, how the day is,
// what is asked again on a next visit; all of it by keyboard as well.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { goTo, openCard, say, smallTargets } from "../lib/cards.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const PHONE = { width: 390, height: 844 };
const STOP = "How the person says stop";
const CONDITIONS = "Does any of this hold?";
const HELP = "Who helps, and how";
const CONSENT = "Who agreed, and to what";

/** What the caution of each condition must say. */
const CAUTIONS = {
  Seizures: /moving pictures.*seizure plan/,
  "Recent surgery or fracture": /treating team has allowed.*never against resistance/,
  "Joints that slip out": /Support the joint.*No heavier spring/,
  "Spinal cord injury at T6 or above":
    /headache, flushing or sweating.*stop, sit up, loosen anything tight, check the bladder drainage.*emergency plan, call for help/,
  "Breathing support": /watches the breathing.*five breaths.*dizziness/,
  "Bite reflex": /No mouthpiece that can break.*never shared/,
  "Poor sensation": /skin under straps.*may not feel/,
  "Pain or fatigue today": /shortest plan.*two points of ten.*stop for today/,
};

test("every caution is shown for its answer, and all can be read", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address, size: PHONE });
  await page.goto(address);
  const conditions = await openCard(page, CONDITIONS);
  const shown = conditions.getByRole("status").locator(".caution");
  assert.equal(await conditions.locator("fieldset").count(), Object.keys(CAUTIONS).length);
  for (const [condition, caution] of Object.entries(CAUTIONS)) {
    assert.equal(await shown.count(), 0, `nothing yet of ${condition}`);
    await say(conditions, condition, "yes");
    await shown.first().waitFor();
    assert.equal(await shown.count(), 1);
    assert.match(await shown.textContent(), caution);
    await say(conditions, condition, "no");
    if (condition === "Pain or fatigue today") {
      await shown.filter({ hasText: "asked again between tasks" }).waitFor();
    } else {
      await shown.waitFor({ state: "detached" });
    }
    await say(conditions, condition, "not asked");
    await shown.waitFor({ state: "detached" });
  }
  // Those that were not answered can be read too.
  await conditions.getByText("All cautions", { exact: true }).click();
  const all = await conditions.getByRole("definition").allTextContents();
  assert.equal(all.length, Object.keys(CAUTIONS).length);
  Object.values(CAUTIONS).forEach((caution, at) => assert.match(all[at], caution));
  // One no to all that is left; a yes stays.
  await say(conditions, "Bite reflex", "yes");
  await conditions.getByRole("button", { name: "None of the others" }).click();
  await conditions.locator("summary").first().getByText("Bite reflex", { exact: true }).waitFor();
  const no = conditions.getByRole("radio", { name: "no", exact: true, checked: true });
  assert.equal(await no.count(), Object.keys(CAUTIONS).length - 1);
  // For everybody.
  for (const always of [/Never use these settings to drive a wheelchair/, /Stop at pain, numbness/]) {
    await page.getByRole("main").getByText(always).first().waitFor();
  }
  await assertAccessible(page, "ready with the conditions open");
  assert.deepEqual(await smallTargets(page, "conditions"), []);
  assert.deepEqual(await pictures(page, "ready-conditions"), []);

  const help = await openCard(page, HELP);
  await say(help, "Who is there?", "nobody, the player is alone");
  await help.getByText(/telephone or call bell in reach/).waitFor();
  await say(help, "Who is there?", "somebody over video");
  await help.getByText(/if the call breaks off/).waitFor();
  await say(help, "Who is there?", "somebody beside the player");
  await help.locator(".caution").waitFor({ state: "detached" });
  await help.getByRole("textbox", { name: "Who helps" }).fill("Sister");

  await goTo(page, "today");
  const today = page.getByRole("main");
  await say(today, "Spasm against usual", "more");
  await today.getByText(/More spasm than usual: keep it short/).waitFor();
  await say(today, "Spasm against usual", "as usual");
  await today.getByText(/More spasm than usual/).waitFor({ state: "detached" });
  await today.getByRole("combobox", { name: "Fatigue" }).selectOption("3");
  assert.match(await today.getByLabel("Time of day").inputValue(), /^\d\d:\d\d$/);
  await assertAccessible(page, "today");
  assert.deepEqual(await smallTargets(page, "today"), []);
  assert.deepEqual(await pictures(page, "today"), []);
  assertClean();
  await close();
});

test("a no to consent says what it means, and means it", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  await goTo(page, "ready");
  const consent = await openCard(page, CONSENT);
  await consent.getByRole("textbox", { name: "Who agreed" }).fill("Father");

  await say(consent, "To being measured", "no");
  await consent.getByText(/^Then do not measure/).waitFor();
  // Another stick begins another fitting; the no stays.
  await goTo(page, "stick");
  await page.getByRole("button", { name: /^Practice stick/ }).click();
  await goTo(page, "measure");
  await page.getByText(/Somebody said no to being measured/).waitFor();
  await page.getByRole("link", { name: "See who agreed" }).click();
  await openCard(page, CONSENT);
  await goTo(page, "kept");
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.getByRole("slider", { name: "Dead zone" }).waitFor();
  await goTo(page, "ready");

  const again = await openCard(page, CONSENT);
  await say(again, "To being measured", "yes");
  await say(again, "To handing a summary to others", "no");
  await again.getByText(/^Then Hand over offers no link/).waitFor();
  await goTo(page, "hand-over");
  await page.getByRole("link", { name: /^Handover sheet/ }).waitFor();
  assert.equal(await page.getByRole("button", { name: /link|Save the summary/ }).count(), 0);
  await goTo(page, "ready");

  // The person's own no counts for all three, whoever else agreed.
  const own = await openCard(page, CONSENT);
  await say(own, "To handing a summary to others", "yes");
  await say(own, "The person’s own yes or no", "no");
  await own.getByText(/^A person’s own no counts for all three/).waitFor();
  await assertAccessible(page, "consent with a no");
  assert.deepEqual(await pictures(page, "ready-consent"), []);
  await own.getByRole("button", { name: "Delete it from this browser" }).click();
  await own.getByText(/^Deleted\./).waitFor();
  // Nothing told from here on is kept.
  await page.getByRole("textbox", { name: "A name for this fitting" }).fill("Told after the no");
  await goTo(page, "today");
  await page.getByRole("combobox", { name: "Pain" }).selectOption("2");
  await goTo(page, "hand-over");
  assert.equal(await page.getByText(/^Kept in this browser at/).count(), 0);
  await goTo(page, "kept");
  await page.reload();
  await page.getByRole("heading", { name: "Kept fittings", level: 1 }).waitFor();
  assert.equal(await page.getByRole("button", { name: /^Open: / }).count(), 0);
  assertClean();
  await close();
});

test("answers are kept over a reload; a next visit asks again what can change", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.goto(address);
  const checks = page.getByRole("checkbox");
  await page.getByRole("textbox", { name: "A name for this fitting" }).fill("Tuesday");
  const stop = await openCard(page, STOP);
  await stop.getByRole("button", { name: "Closes both eyes" }).click();
  for (const check of await checks.all()) await check.check();
  const conditions = await openCard(page, CONDITIONS);
  await say(conditions, "Seizures", "yes");
  await say(conditions, "Recent surgery or fracture", "yes");
  await say(conditions, "Bite reflex", "no");
  const help = await openCard(page, HELP);
  await help.getByRole("textbox", { name: "Who helps" }).fill("Sister");
  const consent = await openCard(page, CONSENT);
  await consent.getByRole("textbox", { name: "Who agreed" }).fill("Father");
  await say(consent, "To being measured", "yes");
  await say(consent, "The person’s own yes or no", "yes");
  await consent.getByText(/^Last changed/).waitFor();
  await goTo(page, "today");
  await page.getByRole("combobox", { name: "Fatigue" }).selectOption("4");
  await goTo(page, "set-up");
  await (await openCard(page, "The person")).getByRole("textbox", { name: "Seat" }).fill("Own chair");
  await page.getByRole("heading", { level: 1 }).click();

  await goTo(page, "kept");
  await page.getByText(/Tuesday/).first().waitFor();
  await page.waitForTimeout(300);
  await page.reload();
  await page.getByRole("button", { name: "Open: Tuesday" }).click();
  await page.getByRole("heading", { name: "Before anything moves" }).waitFor();
  assert.equal(await page.getByRole("checkbox", { checked: true }).count(), 3);
  const line = (title) => page.locator("summary", { hasText: title });
  assert.match(await line(STOP).textContent(), /Closes both eyes; tried today/);
  assert.match(await line(CONDITIONS).textContent(), /Seizures, Recent surgery or fracture; 5 not asked/);
  assert.match(await line(HELP).textContent(), /Sister/);
  assert.match(await line(CONSENT).textContent(), /Father; measuring yes; own answer yes/);
  assert.match(await page.getByRole("link", { name: /^Today.*fatigue 4/ }).textContent(), /fatigue 4/);
  await page.getByRole("link", { name: /^Set-up.*Own chair/ }).waitFor();

  await goTo(page, "kept");
  await page.getByRole("button", { name: "Next visit: Tuesday" }).click();
  await page.getByRole("heading", { name: "Before anything moves" }).waitFor();
  // Remembered.
  assert.match(await line(STOP).textContent(), /Closes both eyes; not tried yet today/);
  assert.match(await line(CONDITIONS).textContent(), /Seizures; 7 not asked/);
  assert.match(await line(HELP).textContent(), /Sister/);
  await page.getByRole("link", { name: /^Set-up.*Own chair/ }).waitFor();
  assert.equal(await page.getByRole("textbox", { name: "A name for this fitting" }).inputValue(), "Tuesday");
  // Asked again.
  assert.equal(await page.getByRole("checkbox", { checked: true }).count(), 0);
  const said = (await line(CONSENT).textContent()).replace("Who agreed, and to what", "");
  assert.equal(said, "Father");
  await page.getByRole("link", { name: /^Today.*nothing said yet/ }).waitFor();
  const asked = await openCard(page, CONDITIONS);
  await asked.getByText(CAUTIONS.Seizures).first().waitFor();

  // A next visit is a fitting of its own: with the first answer, both are kept.
  await say(asked, "Poor sensation", "no");
  await goTo(page, "kept");
  await page.getByRole("button", { name: "Open: Tuesday" }).nth(1).waitFor();
  assert.equal(await page.getByRole("button", { name: "Open: Tuesday" }).count(), 2);
  assertClean();
  await close();
});

test("ready, today and set-up by keyboard alone", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.goto(address);
  await page.locator("summary", { hasText: CONDITIONS }).waitFor();
  const keys = keyboard(page);
  await page.keyboard.press("Tab");
  await keys.use(/^How the person says stop/);
  await keys.use(/^Closes both eyes/);
  await keys.use(/^Does any of this hold/);
  // The first group: into its answers by Tab, along them by arrow.
  await keys.to(/^not asked$/);
  await keys.press("ArrowRight");
  await page.getByText(CAUTIONS.Seizures).first().waitFor();
  await keys.use(/^None of the others/);
  await keys.use(/^Who helps, and how/);
  await keys.to(/^Who helps$/);
  await keys.type("Sister");
  await keys.use(/^Who agreed, and to what/);
  await keys.to(/^Who agreed$/);
  await keys.type("Father");
  await keys.use(/^Today/);
  await page.getByRole("heading", { name: "How is today?" }).waitFor();
  await keys.to(/^Fatigue$/);
  await keys.type("4");
  await keys.use(/^Go on to the set-up/);
  await page.getByRole("heading", { name: "Where the person and the stick are" }).waitFor();
  await keys.use(/^Where the stick is/);
  await keys.to(/^Measured from$/);
  await keys.type("left arm rest");
  await keys.to(/^Forward or back/);
  await keys.type("120");
  await keys.to(/^Forward or back \(mm\): which way$/);
  await keys.press("ArrowDown");
  await page.getByText(/120\s?mm/).first().waitFor();
  await keys.use(/^Go on to the stick/);
  await page.getByRole("link", { name: /^Set-up.*left arm rest.*120\s?mm back/ }).waitFor();
  await page.getByRole("link", { name: /^Today.*fatigue 4/ }).waitFor();
  assertClean();
  await close();
});
