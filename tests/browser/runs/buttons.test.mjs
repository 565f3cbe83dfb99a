// The plan of the buttons: what is needed, what is there, what gets through, by keyboard too.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo, openCard, say, smallTargets } from "../lib/cards.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { pictures } from "../lib/screens.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const PLAN = (page) => page.getByRole("region", { name: "The plan as a table" });

test("ten buttons at a hub: ranked jobs, ease, what is lost", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address, scripts: [[scriptedPad, { period: 4 }]] });
  await page.goto(`${address}#/stick`);
  await page.evaluate(() => {
    window.scriptedStick.connect(0, { id: "Bench stick", axes: 2, buttons: 10 });
    return window.scriptedStick.press(0, 0);
  });
  await page.getByRole("button", { name: /^Bench stick/ }).click();
  await goTo(page, "what-gets-through");
  await page.getByRole("radio", { name: /^A hub with two stick ports/ }).check();
  await page.getByRole("link", { name: "Plan the buttons" }).click();
  await page.getByText("No job was named yet.").waitFor();

  // By keyboard: three jobs, the last one moved to the front.
  const keys = keyboard(page);
  await keys.to(/^A job in your own words$/);
  for (const job of ["Jump", "Open the map"]) {
    await page.keyboard.type(job);
    await keys.press("Enter");
  }
  await page.getByRole("combobox", { name: "Or a button of the usual layout, by its place" }).selectOption("9");
  await keys.to(/^Or a button/);
  await keys.use(/^Add it$/);
  await keys.use(/^Up: centre, right$/);
  const at = await keys.press("Enter");
  assert.equal(at.name, "Up: centre, right", "the control of the moved job keeps the focus");
  const order = () => page.locator(".ranked > li > span").allTextContents();
  assert.deepEqual(await order(), ["centre, right", "Jump", "Open the map"]);

  // What is known of the buttons.
  const heading = (number) => `Button ${number}`;
  const first = await openCard(page, heading(0));
  await say(first, "How easily is it pressed?", "not at all");
  const third = await openCard(page, heading(2));
  await third.getByRole("textbox", { name: "Where it is" }).fill("under the thumb");
  await third.getByRole("textbox", { name: "Where it is" }).press("Tab");
  await say(third, "How easily is it pressed?", "easily");
  const row = (name) => PLAN(page).getByRole("row", { name });
  await row(/^centre, right button 2 \(under the thumb\) Easily pressed, and whether it is reliable is not known yet\. Give it this job in the host\.$/).waitFor();
  await row(/^Jump button 1 /).waitFor();
  await page.getByText("Out of reach: button 0.").waitFor();
  await page.getByText("Does not get through the host: button 8, button 9.").waitFor();
  await page.getByText(/^Ports 1 and 2 do the same as they come: right cluster, bottom;/).waitFor();
  await page.getByText("Record presses of button 2, 1, 3: the plan uses them and nothing certain is known of them.").waitFor();

  // A pressed one is alight.
  await page.evaluate(() => void window.scriptedStick.press(0, 4, 3000));
  await page.locator("details.answers.pressed").filter({ hasText: heading(4) }).waitFor();

  // Nothing but switches is left when no button can be reached.
  await page.getByRole("button", { name: "Add a switch" }).click();
  const aside = page.getByRole("group", { name: "Switch 1" });
  await aside.getByRole("textbox", { name: "Where it is" }).fill("by the right knee");
  await aside.getByRole("textbox", { name: "Where it is" }).press("Tab");
  await say(aside, "How easily is it pressed?", "easily");
  await row(/^Jump by the right knee Easily pressed, .* It has a socket of its own: ask what that does\.$/).waitFor();
  assert.deepEqual(await pictures(page, "buttons"), []);
  assert.deepEqual(await smallTargets(page, "buttons"), []);
  await assertAccessible(page, "the plan of the buttons");

  // The longest name there may be, unbroken, on the narrowest window.
  await page.setViewportSize({ width: 320, height: 640 });
  await page.getByRole("textbox", { name: "A job in your own words" }).fill("W".repeat(80));
  await page.getByRole("textbox", { name: "A job in your own words" }).press("Enter");
  await row(/^W{80}/).waitFor();
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 320);
  await page.getByRole("button", { name: /^Remove: W/ }).click();
  await row(/^W{80}/).waitFor({ state: "detached" });
  await page.setViewportSize({ width: 1280, height: 800 });

  // It is kept, and on the way there it says how it stands.
  await goTo(page, "kept");
  await page.reload();
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.waitForFunction(() => location.hash === "#/ready");
  await goTo(page, "stick");
  await page.getByRole("link", { name: /^Plan the buttons.*of 3 jobs have a button/ }).click();
  assert.deepEqual(await order(), ["centre, right", "Jump", "Open the map"]);
  assert.match(await page.getByRole("group", { name: "Switch 1" }).getByRole("textbox").inputValue(), /knee/);
  assertClean();
  await close();
});

for (const [stick, count] of [["Practice stick", 4], ["Steady hand", 2]]) {
  test(`as many axes and buttons on every screen: ${stick}`, { timeout: 120_000 }, async () => {
    const { page, assertClean, close } = await visitor(browser, { address });
    await page.goto(`${address}#/stick`);
    await page.getByRole("button", { name: new RegExp(`^${stick}`) }).click();
    const lights = page.getByRole("region", { name: "Buttons" }).getByRole("listitem");
    await lights.nth(count - 1).waitFor();
    assert.equal(await lights.count(), count);
    assert.equal(await page.getByText("This device has no buttons.").count(), 0);

    await goTo(page, "what-gets-through");
    await page.getByText(new RegExp(`${stick}.*, 2 axes, ${count} buttons`, "i")).waitFor();
    await page.getByRole("radio", { name: /^A hub with two stick ports/ }).check();
    await page.getByText(`All ${count} buttons get through.`).waitFor();

    await page.getByRole("link", { name: "Plan the buttons" }).click();
    const known = page.getByRole("region", { name: "The buttons of the stick" }).locator("details");
    await known.nth(count - 1).waitFor();
    assert.equal(await known.count(), count);
    await page.getByRole("textbox", { name: "A job in your own words" }).fill("Jump");
    await page.getByRole("textbox", { name: "A job in your own words" }).press("Enter");
    await PLAN(page).getByRole("row", { name: /^Jump button 0 / }).waitFor();

    await goTo(page, "measure");
    await page.getByRole("button", { name: /^3 minutes/ }).click();
    await page.getByText("More tasks", { exact: true }).click();
    await page.getByRole("button", { name: "Start: Presses", exact: true }).click();
    await page.getByRole("button", { name: "Begin", exact: true }).click();
    await page.getByRole("heading", { level: 1 }).filter({ hasText: /^Button \d+: press/ }).waitFor();
    assertClean();
    await close();
  });
}
