// Every screen as a first visitor finds it: axe-core, nothing wider than its window, pictures.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

for (const screen of ["ready", "stick", "measure", "settings", "try", "hand-over", "kept"]) {
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

test("targets are large enough to hit on every screen", async () => {
  const { page, close } = await visitor(browser, { address, size: { width: 390, height: 844 } });
  const small = [];
  for (const screen of ["ready", "stick", "measure", "settings", "hand-over", "kept"]) {
    await page.goto(`${address}#/${screen}`);
    await page.getByRole("main").getByRole("heading", { level: 1 }).waitFor();
    const found = await page.getByRole("button").or(page.getByRole("combobox")).all();
    for (const control of found) {
      if (!(await control.isVisible())) continue;
      const box = await control.boundingBox();
      if (box.height < 44 || box.width < 44) {
        small.push(`${screen}: ${await control.textContent()} is ${box.width} by ${box.height}`);
      }
    }
  }
  assert.deepEqual(small, []);
  await close();
});
