// What a person sees at a glance: no number where there is none, sentences that follow what is set,
// Rest in reach wherever the screen is scrolled to, nothing clipped, nothing told by colour alone.

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
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

const button = (page, name) => page.getByRole("button", { name, exact: true });

// No number where there is none ----------------------------------------------------------------

/** What names a setting, and what a number of it looks like. */
const SETTINGS = {
  "dead zone": { named: /dead zone/i, number: /\d ?%/ },
  "full throw": { named: /full throw/i, number: /\d ?%/ },
  sensitivity: { named: /sensitivity/i, number: /\d\.\d|→/ },
};

/** Every line of a screen: rows, headings with their figure, paragraphs, points, drawings. */
function lines(page) {
  return page.evaluate(() => {
    for (const details of document.querySelectorAll("details")) details.open = true;
    const whole = "tr, .setting-head, p, li, h1, h2, h3, figcaption, svg[role=img] ";
    const shown = [...document.querySelectorAll(`main :is(${whole})`)].filter((one) => one.checkVisibility());
    const text = (one) => one.getAttribute("aria-label") ?? [...one.querySelectorAll("td, th")].map((cell) => cell.textContent).join(" ");
    const all = shown.map((one) => text(one) || one.textContent);
    const typed = [...document.querySelectorAll("main textarea")].flatMap((box) => box.value.split("\n"));
    const sliders = [...document.querySelectorAll("main [aria-valuetext]")].map(
      (one) => `${one.getAttribute("aria-label")} ${one.getAttribute("aria-valuetext")}`,
    );
    return [...all, ...typed, ...sliders].map((line) => line.replace(/\s+/g, " ").trim());
  });
}

/** Of each setting that the fitting has nothing for, the lines in which a number of it stands. */
function numbersOf(lacking, all, where) {
  return lacking.flatMap((setting) => {
    const { named, number } = SETTINGS[setting];
    return all.filter((line) => named.test(line) && number.test(line)).map((line) => `${where}: ${line}`);
  });
}

async function saved(page, by) {
  const download = page.waitForEvent("download");
  await by.click();
  return readFile(await (await download).path(), "utf8");
}

const lacking = [
  { without: ["quiet_rest"], settings: ["dead zone"], short: /DEAD-ZONE/ },
  { without: ["reach", "hold"], settings: ["full throw", "sensitivity"], short: /FULL-THROW|POINTS|EXPONENT/ },
  { without: ["quiet_rest", "reach", "hold"], settings: Object.keys(SETTINGS), short: /DEAD-ZONE|FULL-THROW/ },
];

for (const { without, settings, short } of lacking) {
  test(`without ${without.join(" and ")} no number of ${settings.join(" and ")} stands anywhere`, { timeout: 180_000 }, async () => {
    const { page, assertClean, close } = await visitor(browser, { address });
    await openKept(page, address, {
      without,
      // A hub that nobody knows, and a game whose numbers are asked for.
      change: (visit) => {
        const layer = { name: "", dead_zone: null, starts_at_zero: true, shape: "radial", full_throw: 1, exponent: 1, step: null };
        visit.path = {
          layers: [{ ...layer, kind: "hub", can_be_set: false }, { ...layer, kind: "game", can_be_set: true }],
          named: 1,
        };
        visit.consent.not_to = [];
        visit.own_game = {
          minutes: 5,
          felt: ["moves_by_itself", "too_far", "too_quick"],
          effort: null,
          comfort: null,
          changed_back: "",
        };
      },
    });
    const found = [];
    const look = async (where) => found.push(...numbersOf(settings, await lines(page), where));
    for (const screen of ["settings", "try", "summary", "handover-sheet", "need-letter", "loan-card"]) {
      await goTo(page, screen);
      if (screen === "summary") await page.getByRole("article").waitFor();
      await look(screen);
      await page.emulateMedia({ media: "print" });
      await look(`${screen} on paper`);
      await page.emulateMedia({ media: "screen" });
    }
    // What is saved as a drawing has neither circle nor mark of it.
    await goTo(page, "settings");
    const circles = await page.evaluate(() => ({
      "dead zone": document.querySelectorAll("circle.dead-zone, .mark-line").length,
      "full throw": document.querySelectorAll("circle.full-throw").length,
      sensitivity: 0,
    }));
    for (const setting of settings) assert.equal(circles[setting], 0, `drawn: ${setting}`);
    await button(page, "Save the pictures on this page").click();
    const drawing = page.getByRole("button", { name: /^Save as SVG/ });
    for (let at = 0; at < (await drawing.count()); at += 1) {
      const name = (await saved(page, drawing.nth(at))).match(/aria-label="([^"]*)"/)?.[1] ?? "";
      found.push(...numbersOf(settings, [name], `drawing ${at}`));
    }
    // What others get: a link, and a short text.
    await goTo(page, "hand-over");
    await button(page, "Make a short text and a code").click();
    const text = await page.getByRole("textbox", { name: "The short text" }).inputValue();
    assert.doesNotMatch(text, short);
    await button(page, "Make a link").click();
    const link = await page.getByRole("textbox", { name: "The link" }).inputValue();
    await page.goto(link);
    await page.getByText("Read-only").first().waitFor();
    await look("shared");
    await goTo(page, "kept");
    await page.getByRole("textbox", { name: /From a message/ }).fill(text);
    await button(page, "Show it").click();
    await page.getByRole("heading", { name: "From a short text" }).waitFor();
    await look("pasted");
    assert.deepEqual(found, []);
    assertClean();
    await close();
  });
}

test("where every setting is suggested, the same reading finds their numbers everywhere", { timeout: 120_000 }, async () => {
  const { page, close } = await visitor(browser, { address });
  await openKept(page, address);
  for (const screen of ["settings", "summary", "handover-sheet"]) {
    await goTo(page, screen);
    const all = await lines(page);
    for (const setting of Object.keys(SETTINGS)) {
      assert.ok(numbersOf([setting], all, screen).length > 0, `${setting} on ${screen}`);
    }
  }
  await close();
});

test("a dead zone says what else it takes only as long as it is the one suggested", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  // With nothing chosen by hand yet.
  await openKept(page, address, { shake: 0.02, change: () => {} });
  const setting = page.locator(".setting").filter({ has: page.getByRole("heading", { name: "Dead zone" }) });
  const slider = page.getByRole("slider", { name: "Dead zone" });
  const percent = async (pattern) => Number((await setting.innerText()).match(pattern)?.[1] ?? NaN);
  const read = async () => ({
    now: await percent(/([\d.]+)\s*%/),
    withAll: await percent(/also takes the resting place.*?, ([\d.]+)\s*% is enough/),
    alone: await percent(/By itself it has to be ([\d.]+)\s*%/),
  });
  const suggested = await read();
  // The fitting's stick rests beside the middle, and there is room to steer beside a number that
  // covers that.
  assert.ok(suggested.withAll > 0 && suggested.withAll < suggested.now, JSON.stringify(suggested));
  assert.ok(Number.isNaN(suggested.alone), JSON.stringify(suggested));
  for (let value = 0; value <= 20; value += 1) {
    await slider.fill(String(value));
    const { now, withAll, alone } = await read();
    assert.equal(now, value);
    assert.ok(Number.isNaN(withAll) && Number.isNaN(alone), `${value}: ${withAll} ${alone}`);
  }
  assertClean();
  await close();
});

// Rest in reach --------------------------------------------------------------------------------

const WINDOWS = [
  { width: 320, height: 640 },
  // A window of 1280 by 800 at 400 % (WCAG 2.2, 1.4.10).
  { width: 320, height: 200 },
  { width: 640, height: 360 },
  { width: 1280, height: 800 },
];

/** Where Rest is after scrolling to the end; what lies over what has the focus, both ways. */
function underway(page) {
  return page.evaluate(() => {
    const rest = document.querySelector("header .rest");
    const faults = [];
    scrollTo(0, document.documentElement.scrollHeight);
    const box = rest.getBoundingClientRect();
    const over = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    if (over !== rest) faults.push(`Rest is out of reach: ${over?.tagName} at ${box.x}, ${box.y}`);
    // What stays in view may take a third of the window at most.
    let kept = 0;
    for (let y = 1; y < innerHeight; y += 4) {
      if (document.elementFromPoint(innerWidth / 3, y)?.closest("header.top")) kept += 4;
    }
    if (kept > innerHeight / 3 + 4) faults.push(`${kept} px of ${innerHeight} stay covered`);
    const controls = "main :is(button, select, summary, a[href], input, textarea, [tabindex='0'])";
    const all = [...document.querySelectorAll(controls)].filter((one) => !one.disabled && one.checkVisibility() && !one.closest("dialog"));
    for (const control of [...all, ...all.toReversed()]) {
      control.focus();
      if (document.activeElement !== control) continue;
      const { left, right, top, bottom } = control.getBoundingClientRect();
      const x = Math.min(Math.max((left + right) / 2, 1), innerWidth - 1);
      const from = Math.max(top, 0);
      const to = Math.min(bottom, innerHeight);
      // The middle of what is in the window; of what is low enough to be seen whole, its first line
      // too. A box to write in is brought to where its letters are written.
      const whole = bottom - top < innerHeight / 3 && control.tagName !== "TEXTAREA";
      const at = control.tagName === "TEXTAREA" ? to - 12 : (from + to) / 2;
      const points = [at, ...(whole ? [top + 2] : [])].map((y) => document.elementFromPoint(x, y));
      const over = points.filter((at) => at?.closest("header.top"));
      if (over.length > 0 || to - from < 1) {
        const name = control.getAttribute("aria-label") ?? control.textContent.trim().slice(0, 30);
        faults.push(`${control.tagName} “${name}” has the focus under what stays: ${top.toFixed(0)} to ${bottom.toFixed(0)}`);
      }
    }
    return { faults, at: [Math.round(innerWidth - box.right), Math.round(box.top)] };
  });
}

test("Rest stays at the top right of every screen, and covers nothing that has the focus", { timeout: 240_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  const faults = [];
  for (const size of WINDOWS) {
    await page.setViewportSize(size);
    const places = new Set();
    for (const screen of SCREENS) {
      await goTo(page, screen);
      const seen = await underway(page);
      faults.push(...seen.faults.map((fault) => `${screen}, ${size.width} by ${size.height}: ${fault}`));
      places.add(seen.at.join());
    }
    assert.equal(places.size, 1, `one place in a window of ${size.width}: ${[...places].join(" and ")}`);
  }
  assert.deepEqual(faults, []);
  assertClean();
  await close();
});

// Nothing clipped, one length, one scale -------------------------------------------------------

/** Words in drawings that are cut off at the drawing's edge. */
function clipped(page, where) {
  return page.evaluate((where) => {
    const cut = [];
    for (const text of document.querySelectorAll("main svg text")) {
      if (!text.checkVisibility({ visibilityProperty: true })) continue;
      const drawing = text.ownerSVGElement;
      if (getComputedStyle(drawing).overflow === "visible") continue;
      const [inner, outer] = [text.getBoundingClientRect(), drawing.getBoundingClientRect()];
      const by = Math.max(outer.left - inner.left, inner.right - outer.right, outer.top - inner.top, inner.bottom - outer.bottom);
      if (by > 0.5) cut.push(`${where}: “${text.textContent}” by ${by.toFixed(1)} px`);
    }
    return cut;
  }, where);
}

/** Bars under one another whose tracks differ in length. */
function uneven(page, where) {
  return page.evaluate((where) => {
    const lengths = (bars) => [...bars.querySelectorAll("svg")].map((svg) => Math.round(svg.getBoundingClientRect().width));
    const all = [...document.querySelectorAll("main .bars")].map(lengths);
    return all.filter((one) => new Set(one).size > 1).map((one) => `${where}: ${one.join(" and ")} px`);
  }, where);
}

test("no word of a drawing is clipped, and tracks under one another are of one length", { timeout: 180_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  const faults = [];
  for (const size of [{ width: 360, height: 640 }, { width: 1280, height: 800 }, { width: 1920, height: 1080 }]) {
    await page.setViewportSize(size);
    for (const screen of SCREENS) {
      await goTo(page, screen);
      const where = `${screen} at ${size.width}`;
      await page.evaluate(() => document.fonts.ready);
      faults.push(...(await clipped(page, where)), ...(await uneven(page, where)));
    }
    await goTo(page, "summary");
    await page.emulateMedia({ media: "print" });
    faults.push(...(await clipped(page, "on paper")), ...(await uneven(page, "on paper")));
    await page.emulateMedia({ media: "screen" });
  }
  // Both are there to be looked at.
  await goTo(page, "settings");
  assert.ok((await page.locator("main .bars").count()) >= 2);
  assert.ok((await page.locator("main svg text").count()) > 20);
  assert.deepEqual(faults, []);
  assertClean();
  await close();
});

/** Shapes that no style sheet gives a colour: a browser fills them with black. */
const unstyled = (page, where) =>
  page.evaluate((where) => {
    const shapes = [...document.querySelectorAll("main svg :is(rect, circle, path, ellipse, polygon)")];
    const black = shapes.filter((one) => {
      const { fill, stroke } = getComputedStyle(one);
      return fill === "rgb(0, 0, 0)" && stroke === "none";
    });
    return [...new Set(black.map((one) => `${one.tagName}.${one.getAttribute("class")} on ${where}`))];
  }, where);

test("every shape of a drawing has a colour of the page's own", async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  const faults = [];
  for (const screen of SCREENS) {
    await goTo(page, screen);
    faults.push(...(await unstyled(page, screen)));
  }
  await goTo(page, "stick");
  await page.getByRole("button", { name: /^Practice stick/ }).click();
  await page.locator(".bars .bar").first().waitFor();
  faults.push(...(await unstyled(page, "stick with a stick")));
  assert.deepEqual(faults, []);
  assertClean();
  await close();
});

// Told by more than colour ---------------------------------------------------------------------

test("in forced colours the step one is at has a line that the others have not", async () => {
  const { page, assertClean, close } = await visitor(browser, { address, forcedColors: "active" });
  await page.goto(`${address}#/stick`);
  await page.getByRole("heading", { level: 1 }).waitFor();
  await page.getByRole("button", { name: /^Practice stick/ }).click();
  const steps = await page.evaluate(() => {
    const paper = getComputedStyle(document.querySelector("header.top")).backgroundColor;
    return [...document.querySelectorAll(".way a")].map((step) => {
      const { borderBottomColor, borderBottomWidth, borderTopColor } = getComputedStyle(step);
      return {
        here: step.hasAttribute("aria-current"),
        line: borderBottomColor !== paper && parseFloat(borderBottomWidth) >= 3,
        above: borderTopColor !== paper,
      };
    });
  });
  assert.equal(steps.length, 6);
  for (const { here, line, above } of steps) {
    assert.equal(line, here);
    assert.equal(above, false);
  }
  // The dot of the stick and the progress of a task are seen against what is behind them.
  const dot = await page.evaluate(() => {
    const paper = getComputedStyle(document.body).backgroundColor;
    return getComputedStyle(document.querySelector(".dot")).backgroundColor !== paper;
  });
  assert.ok(dot, "the dot of the stick");
  assertClean();
  await close();
});

// Everyday figures -----------------------------------------------------------------------------

test("seconds of the clock and gaps stand on the researcher's page alone", { timeout: 120_000 }, async () => {
  const { page, assertClean, close } = await visitor(browser, { address });
  await openKept(page, address);
  const odd = /.{0,30}(\d:\d\d:\d\d|\bgaps (over|none|\d)).{0,20}/gi;
  const found = [];
  let researcher = "";
  // Last that of the stick: another stick is another series, of which there is nothing yet.
  for (const screen of [...SCREENS.filter((one) => one !== "stick"), "stick"]) {
    await goTo(page, screen);
    if (screen === "stick") {
      await page.getByRole("button", { name: /^Practice stick/ }).click();
      await page.getByText("looks a second").waitFor();
    }
    const text = await page.evaluate(() => {
      for (const details of document.querySelectorAll("details")) details.open = true;
      return document.querySelector("main").innerText.replace(/\s+/g, " ");
    });
    if (screen === "details") researcher = text;
    else found.push(...[...text.matchAll(odd)].map((one) => `${screen}: ${one[0]}`));
  }
  assert.deepEqual(found, []);
  assert.match(researcher, /\d:\d\d:\d\d/);
  assert.match(researcher, /gaps/);
  assertClean();
  await close();
});
