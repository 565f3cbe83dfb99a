// The main job in Firefox: a scripted device through the gamepad interface, an invented person measured
// by a whole plan, settings, try, hand over, kept after a reload. What came of it goes into the file
// named by FIREFOX_RESULT.
//
// Firefox is driven through WebDriver BiDi (W3C), which it speaks by itself; so the run has its own
// small hands here instead of those of the other runs.

import assert from "node:assert/strict";
import { mkdir, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { test } from "node:test";

import puppeteer from "puppeteer-core";

import { pageAddress } from "../lib/address.mjs";
import { scriptedPad } from "../lib/scripted-pad.mjs";
import { OUT } from "../lib/screens.mjs";

const PERSON = "Short to one side";
const MINUTES = 3;

/** Waits until the page says that something is so, and gives what it says. */
async function until(page, what, says, ...given) {
  for (const end = Date.now() + 240_000; ; await new Promise((done) => setTimeout(done, 100))) {
    const said = await page.evaluate(says, ...given);
    if (said) return said;
    if (Date.now() > end) throw new Error(`never came true: ${what}`);
  }
}

/** Presses the control whose name begins so, once it is there. */
const press = (page, name) =>
  until(
    page,
    `a control named ${name}`,
    (name) => {
      const shown = (control) => control.checkVisibility() && !control.disabled;
      const named = (control) => (control.getAttribute("aria-label") ?? control.textContent).trim();
      const all = [...document.querySelectorAll("button, a[href], summary")].filter(shown);
      const found = all.find((control) => named(control) === name) ?? all.find((control) => named(control).startsWith(name));
      found?.click();
      return Boolean(found);
    },
    name,
  );

const text = (page, words) =>
  until(page, words, (words) => document.body.innerText.includes(words), words);

const go = (page, screen) => page.evaluate((screen) => void (location.hash = `#/${screen}`), screen);

/** Goes through the plan until nothing is left; the kinds of task that were played. */
async function playPlan(page) {
  const played = [];
  for (;;) {
    const next = await until(page, "what comes next", () => {
      const said = document.body.innerText;
      if (said.includes("Everything in the plan is there")) return "end";
      const names = [...document.querySelectorAll("main button")].filter((one) => one.checkVisibility());
      const begin = names.find((one) => one.textContent.trim() === "Begin");
      if (begin) return document.querySelector(".step").textContent.trim();
      names.find((one) => one.textContent.trim().startsWith("Start: "))?.click();
      return null;
    });
    if (next === "end") return played;
    played.push(next);
    await press(page, "Begin");
    await until(page, `the end of ${next}`, () => document.body.innerText.includes("That is enough"));
    await until(page, "the way on", () => {
      const on = [...document.querySelectorAll("main button")].find((one) => /^(Next: |Done$)/.test(one.textContent.trim()));
      on?.click();
      return Boolean(on);
    });
  }
}

test("the main job in Firefox", { timeout: 1_200_000 }, async () => {
  const address = await pageAddress();
  const browser = await puppeteer.launch({
    browser: "firefox",
    executablePath: process.env.FIREFOX || "/usr/bin/firefox-esr",
    headless: true,
  });
  const problems = [];
  const page = await browser.newPage();
  page.on("pageerror", (error) => problems.push(`uncaught error: ${error.message}`));
  page.on("console", (message) => {
    if (message.type() === "error") problems.push(`console: ${message.text()}`);
  });
  await page.setViewport({ width: 1280, height: 800 });
  await page.evaluateOnNewDocument(scriptedPad, { period: 1000 / 60 });
  await page.goto(address);
  const version = await browser.version();

  // A scripted device shows itself and is measured hands off.
  await text(page, "Before anything moves");
  await press(page, "Go on to the stick");
  await text(page, "No stick has shown itself yet");
  await page.evaluate(() => {
    window.scriptedStick.connect(0, { axes: 4, buttons: 12, noise: 0.004 });
    return window.scriptedStick.press(0, 0);
  });
  await press(page, "Scripted stick");
  await press(page, "Go on to measuring");
  await press(page, "3 minutes");
  await press(page, "Start: Hands off");
  await press(page, "Begin");
  await text(page, "That is enough");
  await press(page, "Next: ");
  await go(page, "kept");
  await until(page, "it is kept", () => /1 task,/.test(document.body.innerText));

  // An invented person plays a whole plan.
  await go(page, "ready");
  await press(page, "Start a new fitting");
  await go(page, "stick");
  await press(page, PERSON);
  await press(page, "Go on to measuring");
  await press(page, `${MINUTES} minutes`);
  await press(page, "Start: Hands off");
  const played = await playPlan(page);
  await press(page, "See the settings");
  const deadZone = await until(page, "a dead zone", () => {
    const slider = document.querySelector("main input[type=range]");
    return slider && Number(slider.value);
  });
  await page.screenshot({ path: `${OUT}firefox-settings.png`, fullPage: true });
  await go(page, "try");
  await until(page, "try", () => document.querySelector("main h1") && location.hash === "#/try");
  await go(page, "hand-over");
  await press(page, "Make a short text and a code");
  const short = await until(page, "a short text", () => document.querySelector("#short")?.value);
  await page.screenshot({ path: `${OUT}firefox-hand-over.png`, fullPage: true });
  await press(page, "Make a link");
  const link = await until(page, "a link", () => document.querySelector("#link")?.value);
  await text(page, "Kept in this browser at");

  // After a reload both are there, and the link opens.
  await page.goto("about:blank");
  await page.goto(`${address}#/kept`);
  const rows = await until(page, "the list", () => document.querySelectorAll(".kept-row").length);
  await press(page, "Open: ");
  await until(page, "it opens", () => location.hash === "#/settings" || location.hash === "#/ready");
  await page.goto("about:blank");
  await page.goto(link);
  await text(page, "Read-only");
  await browser.close();

  console.log({ version, played, deadZone, short, rows });
  assert.match(short, /^STICK-FITTING:1\/.*\/SUM:[0-9A-F]{8}$/);
  assert.deepEqual(problems, []);
  const bars = [
    { name: "tasks played by the plan", measured: played.length, side: "at_least", bar: 3 },
    { name: "fittings kept after a reload", measured: rows, side: "at_least", bar: 2 },
    { name: "problems", measured: problems.length, side: "at_most", bar: 0 },
  ];
  const { FIREFOX_RESULT: file } = process.env;
  if (file) {
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, `${JSON.stringify(bars, null, 2)}\n`);
  }
});
