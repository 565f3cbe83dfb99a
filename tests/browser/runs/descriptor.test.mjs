// A report descriptor pasted before anything is bought: read, held against hosts, kept.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { assertAccessible } from "../lib/axe.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { smallTargets } from "../lib/cards.mjs";
import { keyboard } from "../lib/keyboard.mjs";
import { pictures } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

// An invented joystick: Y before X, ten bits each, a hat with a null state, twelve buttons.
const STICK = `// what the maker sent
0x05, 0x01, 0x09, 0x04, 0xA1, 0x01,
0x15, 0x00, 0x26, 0xFF, 0x03, 0x75, 0x0A, 0x95, 0x02, 0x09, 0x31, 0x09, 0x30, 0x81, 0x02, /* axes */
0x25, 0x07, 0x46, 0x3B, 0x01, 0x65, 0x14, 0x75, 0x04, 0x95, 0x01, 0x09, 0x39, 0x81, 0x42,
0x45, 0x00, 0x65, 0x00, 0x05, 0x09, 0x19, 0x01, 0x29, 0x0C, 0x25, 0x01, 0x75, 0x01, 0x95, 0x0C, 0x81, 0x02,
0x75, 0x04, 0x95, 0x01, 0x81, 0x03, 0xC0`;
const MOUSE = `05 01 09 02 A1 01 09 01 A1 00 05 09 19 01 29 03 15 00 25 01 75 01 95 03 81 02
75 05 95 01 81 03 05 01 09 30 09 31 15 81 25 7F 75 08 95 02 81 06 C0 C0`;

test("a pasted descriptor is read, judged, kept and forgotten, by keyboard", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await page.goto(`${address}#/what-gets-through`);
  await page.getByRole("heading", { level: 1, name: "What gets through?" }).waitFor();
  const keys = keyboard(page);
  await keys.press("Tab");
  await keys.to(/^Read a report descriptor$/);
  await page.keyboard.press("Enter");
  const field = page.getByRole("textbox", { name: "The descriptor, as hexadecimal numbers" });
  const says = (text) => page.getByRole("status").filter({ hasText: text }).waitFor();
  const read = async (text) => {
    await field.fill(text);
    await field.press("Tab");
    await page.keyboard.press("Enter");
  };
  await read("   ");
  await says("There are no numbers in it yet.");
  await read("05 01\n09 zz");
  await says("Line 2, column 4: here is something that is no hexadecimal number.");
  await read("05 01 09 04 A1 01 15");
  await says("Byte 6: it ends within an item: the end is missing.");
  await read("<img src=x onerror=alert(1)>");
  await says("Line 1, column 1: here is something that is no hexadecimal number.");

  await read(STICK);
  await says("Read: 61 bytes.");
  const row = (name) => page.getByRole("row", { name });
  await row(/^Y 10 0 to 1023 511\.5$/).waitFor();
  await row(/^X 10 0 to 1023 511\.5$/).waitFor();
  await page.getByText("A hat switch of 8 directions; its middle is a value outside its range.").waitFor();
  await page.getByText("12 buttons.", { exact: true }).waitFor();
  await page.getByText("Report from the device: 5 bytes.").waitFor();
  const chosen = page.getByRole("radio", { name: /^What the maker wrote down: a joystick/ });
  assert.equal(await chosen.isChecked(), true);

  await page.getByRole("radio", { name: /^A hub with two stick ports/ }).check();
  await page.getByRole("heading", { name: "Does it work? works with limits", exact: true }).waitFor();
  await page.getByText("It speaks as a joystick (USB usage page 1, usage 4), which the host accepts.").waitFor();
  await page.getByText(/and 4 are lost \(from 8 on\)/).waitFor();
  assert.deepEqual(await pictures(page, "descriptor"), []);
  assert.deepEqual(await smallTargets(page, "descriptor"), []);
  await assertAccessible(page, "a pasted descriptor");

  // What is wrong changes nothing.
  await read("C0");
  await says("Byte 0: a collection is closed and none is open: the beginning is missing. Bytes are counted from 0. What was read before is still there.");
  await row(/^Y 10/).waitFor();

  // It is kept with the fitting.
  await page.goto(`${address}#/kept`);
  await page.reload();
  await page.getByRole("button", { name: /^Open: / }).click();
  await page.waitForFunction(() => location.hash === "#/ready");
  await page.goto(`${address}#/what-gets-through`);
  await page.getByText("12 buttons.", { exact: true }).waitFor();

  await read(MOUSE);
  await page.getByRole("heading", { name: "Does it work? will not work", exact: true }).waitFor();
  await page.getByText("It speaks as a mouse, which the host does not accept.").waitFor();
  await page.getByText("Ask the maker for a mode in which it speaks as a joystick or game pad", { exact: false }).waitFor();
  await page.getByRole("button", { name: "Forget it" }).click();
  await page.getByRole("radio", { name: "What the maker wrote down: nothing pasted yet" }).waitFor();
  assertClean();
  await close();
});
