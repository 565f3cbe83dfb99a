// Every screen as a first visitor finds it, with a fitting open, and while a task runs: axe-core,
// targets of at least 44 px, nothing wider than its window, pictures.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo, smallTargets } from "../lib/cards.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { pictures, SCREENS } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

for (const screen of SCREENS) {
  test(`screen ${screen}: accessible, and fits its window at every size`, async () => {
    const { page, assertClean, close } = await visitor(browser, { address });
    await page.goto(`${address}#/${screen}`);
    await page.getByRole("main").getByRole("heading", { level: 1 }).waitFor();
    await assertAccessible(page, screen);
    assert.deepEqual(await pictures(page, `empty-${screen}`), []);
    assertClean();
    await close();
  });
}

const PHONE = { width: 390, height: 844 };

test("a planted small target is found", async () => {
  const { page, close } = await visitor(browser, { address, size: PHONE });
  await page.goto(`${address}#/ready`);
  await page.getByRole("main").getByRole("heading", { level: 1 }).waitFor();
  assert.deepEqual(await smallTargets(page, "as it is"), []);
  await page.evaluate(() => {
    const button = document.createElement("button");
    button.textContent = "too low";
    button.style.setProperty("min-height", "0", "important");
    button.style.height = "24px";
    document.querySelector("main").prepend(button);
  });
  const found = await smallTargets(page, "planted");
  assert.equal(found.length, 1, found.join("\n"));
  assert.match(found[0], /too low.* by 24/);
  await close();
});

test("targets are large enough to hit on every screen", async () => {
  const { page, close } = await visitor(browser, { address, size: PHONE });
  const small = [];
  await page.goto(address);
  for (const screen of SCREENS) {
    await goTo(page, screen);
    small.push(...(await smallTargets(page, `empty ${screen}`)));
  }
  assert.deepEqual(small, []);
  await close();
});

test("with a fitting open, every screen is accessible and easy to hit", { timeout: 180_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address, size: PHONE });
  await openKept(page, address);
  const small = [];
  const look = async (on, name) => {
    await assertAccessible(on, name);
    small.push(...(await smallTargets(on, name)));
  };
  for (const screen of SCREENS) {
    await goTo(page, screen);
    await look(page, `${screen} with a fitting`);
    if (screen === "settings") {
      // Everything that unfolds, unfolded; a slider moved by hand.
      await page.evaluate(() => {
        for (const details of document.querySelectorAll("details")) details.open = true;
      });
      await page.getByRole("slider", { name: "Dead zone" }).press("ArrowRight");
      await page.getByRole("button", { name: "As suggested: Dead zone" }).waitFor();
      await look(page, "settings unfolded and changed by hand");
    }
    if (screen === "kept") {
      await page.getByRole("button", { name: "Delete everything" }).click();
      await page.getByRole("dialog").waitFor();
      await look(page, "the window that asks before deleting");
      await page.getByRole("button", { name: "Keep it" }).click();
    }
    if (screen === "hand-over") {
      await page.getByRole("button", { name: "Make a link" }).click();
      const link = await page.getByRole("textbox", { name: "The link" }).inputValue();
      await look(page, "hand over with a link");
      const second = await visitor(browser, { address, size: PHONE });
      await second.page.goto(link);
      await second.page.getByText("Read-only").first().waitFor();
      await look(second.page, "a shared summary");
      second.assertClean();
      await second.close();
    }
  }
  assert.deepEqual(small, []);
  assertClean();
  await close();
});

test("a running task and its windows are accessible and easy to hit", { timeout: 180_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address, size: PHONE });
  const small = [];
  const look = async (name) => {
    await assertAccessible(page, name);
    small.push(...(await smallTargets(page, name)));
  };
  await page.goto(`${address}#/stick`);
  await page.getByRole("button", { name: /^Practice stick/ }).click();
  await look("stick with one chosen");
  await page.getByRole("button", { name: "Start: move in a circle" }).click();
  await look("looking for the axes");
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByRole("heading", { name: "How many minutes today?" }).waitFor();
  await look("how many minutes");
  await page.getByRole("button", { name: /^3 minutes/ }).click();
  await look("the plan");
  await page.getByRole("button", { name: "Start: Reach" }).click();
  await look("a task before it begins");
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await page.getByRole("heading", { name: /^Push / }).waitFor();
  await look("a running task");
  await page.getByRole("button", { name: "Mark this one…" }).click();
  await page.getByRole("dialog", { name: "Why does this one not count?" }).waitFor();
  await look("the mark window");
  await page.getByRole("button", { name: "pain", exact: true }).click();
  await page.getByRole("dialog").waitFor({ state: "hidden" });
  await look("a task with a mark for pain");
  await page.getByRole("button", { name: "Rest", exact: true }).click();
  await page.getByRole("dialog", { name: "Rest. Nothing is lost." }).waitFor();
  await look("the rest window");
  await page.keyboard.press("Escape");
  await page.getByRole("dialog").waitFor({ state: "hidden" });
  await look("a paused task");
  assert.deepEqual(small, []);
  assertClean();
  await close();
});
