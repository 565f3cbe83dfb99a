// Plans by time: chosen by minutes and way of working, changed, played by a scripted device and
// by keyboard, stopped, and gone on with on another day.

import assert from "node:assert/strict";
import { after, before, describe, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo } from "../lib/cards.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { playTask, sentence } from "../lib/person.mjs";
import { nextOfPlan } from "../lib/plan.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const NAME = "A plan of three minutes";

/** The seconds that a line like "2 min 10 s" or "40 s" says. */
function seconds(text) {
  const minutes = Number(text.match(/(\d+) min/)?.[1] ?? 0);
  return 60 * minutes + Number(text.match(/(\d+) s/)?.[1] ?? 0);
}

/** The muscle work that the plan on screen says is to come. */
async function muscleToCome(page) {
  const text = await page.getByText(/^Still to come: /).textContent();
  return seconds(text.match(/of it (.*) of muscle work/)[1]);
}

/** Plugs the scripted stick in and chooses it. */
async function takeStick(page) {
  await page.evaluate(() => {
    window.scriptedStick.connect(0, { axes: 2, buttons: 2, noise: 0.004 });
    return window.scriptedStick.press(0, 0);
  });
  await page.getByRole("button", { name: /^Scripted stick/ }).click();
}

describe("plans by time", { concurrency: 2 }, () => {
  test("the shortest plan with a scripted device", { timeout: 420_000 }, async () => {
    const { page, assertClean, close } = await visitor(browser, {
      address,
      scripts: [[scriptedPad, { period: 4 }]],
    });
    await page.goto(address);
    await page.getByRole("textbox", { name: "A name for this fitting" }).fill(NAME);
    await page.getByRole("button", { name: "Go on to the stick" }).click();
    await takeStick(page);
    await page.getByRole("button", { name: "Go on to measuring" }).click();

    // Who tires soon is asked for no more than two minutes of muscle work, however many minutes.
    await page.getByRole("radio", { name: /^tires soon/ }).check();
    await page.getByText("6 minutes is the plan that was tested for this.").waitFor();
    await assertAccessible(page, "choosing a plan");
    assert.deepEqual(await pictures(page, "plan-choose"), []);
    await page.getByRole("radio", { name: "more than usual", exact: true }).check();
    await page.getByRole("button", { name: /^15 minutes/ }).click();
    assert.ok((await muscleToCome(page)) <= 120);
    await page.getByRole("button", { name: "Choose another plan" }).click();

    // The plan is shown with its reasons before it starts, and can be changed.
    await page.getByRole("radio", { name: /^told in words/ }).check();
    await page.getByRole("button", { name: /^3 minutes/ }).click();
    await page.getByText("everything later is told from what the stick does alone").waitFor();
    await page.getByText("nothing is known of reach yet").waitFor();
    await page.getByText("Nothing yet: the first task begins it.").waitFor();
    await page.getByText("Change the plan", { exact: true }).click();
    await assertAccessible(page, "changing a plan");
    assert.deepEqual(await pictures(page, "plan-change"), []);
    await page.getByRole("button", { name: "Leave out: Hold", exact: true }).click();
    await page.getByText("Hold: left out").waitFor();
    await page.getByRole("button", { name: "Put back: Hold", exact: true }).click();
    await page.getByRole("button", { name: "Leave out: Hold", exact: true }).waitFor();

    // Played to its end.
    const began = Date.now();
    const reach = () => 0.7;
    const kinds = [];
    for (let kind; (kind = await nextOfPlan(page)); ) {
      kinds.push(kind);
      await playTask(page, { stick: 0, behaviour: { tremor: null }, reach });
      if (kinds.length !== 2) continue;
      // In the midst of a plan: what there is, what is to come.
      await page.evaluate(() => (location.hash = "#/measure"));
    }
    const took = (Date.now() - began) / 1000;
    console.log(`${kinds.join(", ")}: ${took.toFixed(0)} s`);
    for (const kind of ["Hands off", "Quiet rest", "Reach", "Hold"]) {
      assert.ok(kinds.includes(kind), kind);
    }
    assert.ok(took <= 180, `three minutes, and it took ${took} s`);
    await page.getByText("If you stop here, this is what there is.").waitFor();
    await assertAccessible(page, "a plan that is done");
    assert.deepEqual(await pictures(page, "plan-done"), []);

    // Another day: what is kept counts, and the stick alone is not asked for again.
    await page.goto(`${address}#/kept`);
    await page.reload();
    await page.getByRole("button", { name: `Open: ${NAME}` }).click();
    await page.getByRole("slider", { name: "Dead zone" }).waitFor();
    await goTo(page, "stick");
    await takeStick(page);
    await goTo(page, "measure");
    await page.getByText(/^What is kept of this fitting counts/).waitFor();
    await page.getByRole("button", { name: /^6 minutes/ }).click();
    const first = page.getByRole("main").locator("ol.plan li").first();
    assert.doesNotMatch(await first.textContent(), /^Hands off/);
    assertClean();
    await close();
  });

  test("a plan in bursts by keyboard, with the practice stick", { timeout: 240_000 }, async () => {
    const { page, assertClean, close } = await visitor(browser, { address });
    const keys = keyboard(page);
    await page.goto(`${address}#/stick`);
    await page.getByRole("heading", { name: "Which stick?" }).waitFor();
    await keys.press("Tab");
    await keys.use(/^Practice stick ?drag/);
    await keys.use(/^Go on to measuring/);
    await page.getByRole("heading", { level: 1, name: /minutes/ }).waitFor();
    await keys.to(/^told in words/);
    await keys.press("ArrowDown");
    assert.ok(await page.getByRole("radio", { name: /^shown instead/ }).isChecked());
    await page.getByText("10 minutes is the plan that was tested for this.").waitFor();
    await keys.use(/^10 minutes/);
    await page.getByText("A pause, as long as you like").first().waitFor();
    assert.deepEqual(await pictures(page, "plan-bursts"), []);

    // Less, more, leave out, put back, and directions: the focus is never lost.
    await keys.use(/^Change the plan/);
    await keys.use(/^More: Reach$/);
    await keys.use(/^Less: Reach$/);
    await keys.use(/^Leave out: Hold$/);
    await keys.use(/^Put back: Hold$/);
    await keys.use(/^right$/, "Space");
    await page.getByRole("status").filter({ hasText: "Changed: " }).waitFor();

    // A task, stopped in its midst: what there is is said, and the plan goes on from there.
    await keys.use(/^Start: Hands off$/, "Enter", { back: true });
    await keys.use(/^Begin$/);
    await sentence(page).filter({ hasText: /^That is enough/ }).waitFor({ timeout: 60_000 });
    await keys.check("the end of hands off");
    await keys.use(/^Next: Quiet rest/);
    await keys.use(/^Begin$/);
    await page.waitForTimeout(12_000);
    await keys.use(/^Stop this task and keep it$/);
    await page.getByRole("heading", { name: "The plan", exact: true }).waitFor();
    await page.getByText("If you stop here, this is what there is.").waitFor();
    assert.deepEqual(await pictures(page, "plan-stopped"), []);
    await assertAccessible(page, "a plan that was stopped");
    assertClean();
    await close();
  });
});
