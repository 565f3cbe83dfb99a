// The summary sheet on paper, and every screen on a window as narrow as a phone held upright.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { goTo } from "../lib/cards.mjs";
import { openKept } from "../lib/kept-file.mjs";
import { SCREENS } from "../lib/screens.mjs";

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

/** How many pages a PDF file has: its page objects stand there in plain text. */
function pagesOf(pdf) {
  return (pdf.toString("latin1").match(/\/Type\s*\/Page(?![a-zA-Z])/g) ?? []).length;
}

test("pages of a printed text are counted", async () => {
  const { page, close } = await visitor(browser, { address });
  await page.goto(`${address}fonts/OFL.txt`);
  const [one, many] = [await page.pdf({ format: "A4", pageRanges: "1" }), await page.pdf({ format: "A6" })];
  assert.equal(pagesOf(one), 1);
  assert.ok(pagesOf(many) > 2, `${pagesOf(many)} pages of a small size`);
  await close();
});

test("the summary sheet prints on at most two pages, with its plots", { timeout: 120_000 }, async () => {
  for (const scheme of ["light", "dark"]) {
    const { page, assertClean, close } = await visitor(browser, { address, scheme });
    await openKept(page, address);
    await goTo(page, "summary");
    await page.getByRole("article").waitFor();
    for (const format of ["A4", "Letter"]) {
      const pages = pagesOf(await page.pdf({ format }));
      assert.ok(pages >= 1 && pages <= 2, `${pages} pages of ${format} from ${scheme}`);
    }
    await page.emulateMedia({ media: "print", colorScheme: scheme });
    const seen = await page.evaluate(() => {
      const shown = (element) => element.checkVisibility() && element.getBoundingClientRect().height > 0;
      const all = (selector) => [...document.querySelectorAll(selector)].filter(shown);
      // A plot that is on paper: large, and with lines drawn in it.
      const plots = all("article svg").filter((svg) => {
        const { width, height } = svg.getBoundingClientRect();
        return width > 100 && height > 80 && svg.querySelectorAll("path, line, polyline").length > 3;
      });
      const sheet = getComputedStyle(document.querySelector("article"));
      return {
        plots: plots.length,
        controls: all("button, nav, header.top, input, select").length,
        ink: sheet.color,
        paper: getComputedStyle(document.body).backgroundColor,
      };
    });
    assert.ok(seen.plots >= 2, `${seen.plots} plots: the field and the false movements`);
    assert.equal(seen.controls, 0, "nothing to press is on paper");
    const light = (colour) => colour.match(/[\d.]+/g).slice(0, 3).reduce((sum, part) => sum + Number(part), 0);
    assert.ok(light(seen.ink) < 150, `dark ink: ${seen.ink}`);
    const paper = seen.paper === "rgba(0, 0, 0, 0)" ? 765 : light(seen.paper);
    assert.ok(paper > 700, `light paper: ${seen.paper}`);
    assertClean();
    await close();
  }
});

test("at 320 px no screen scrolls sideways, with a fitting or without", { timeout: 120_000 }, async () => {
  const size = { width: 320, height: 640 };
  const { page, assertClean, close } = await visitor(browser, { address, size });
  await page.goto(address);
  const wide = [];
  const look = async (name) => {
    // Only what the window itself would scroll; wide tables scroll within their own frames.
    const width = await page.evaluate(() => {
      scrollTo(10_000, scrollY);
      const moved = scrollX;
      scrollTo(0, scrollY);
      return moved + document.documentElement.clientWidth;
    });
    const whole = await page.evaluate(() => document.documentElement.scrollWidth);
    if (Math.max(width, whole) > size.width) wide.push(`${name}: ${width} and ${whole} px`);
  };
  for (const screen of SCREENS) {
    await goTo(page, screen);
    await look(`empty ${screen}`);
  }
  // The longest things a person may bring, unbroken.
  await openKept(page, address, { label: "W".repeat(80), device: "M".repeat(80) });
  for (const screen of SCREENS) {
    await goTo(page, screen);
    await look(screen);
  }
  await goTo(page, "hand-over");
  await page.getByRole("button", { name: "Make a link" }).click();
  await look("hand-over with a link");
  const link = await page.getByRole("textbox", { name: "The link" }).inputValue();
  await page.goto(link);
  await page.getByText("Read-only").first().waitFor();
  await look("a shared summary");
  await page.goto(`${address}#s1.AAAA`);
  await page.getByRole("alert").waitFor();
  await look("a damaged link");
  assert.deepEqual(wide, []);
  assertClean();
  await close();
});
