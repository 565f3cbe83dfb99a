// A person who has a keyboard and nothing else: every press is watched, and the focus may never be
// lost nor hidden.

import assert from "node:assert/strict";

/** What has the focus: its name as it reads, its role, and how its ring is drawn. */
function focused(page) {
  return page.evaluate(() => {
    const element = document.activeElement;
    if (!element) return { tag: "NONE", name: "" };
    const label = element.labels?.[0]?.textContent;
    const name = element.getAttribute("aria-label") ?? label ?? element.textContent ?? "";
    const style = getComputedStyle(element);
    const box = element.getBoundingClientRect();
    return {
      tag: element.tagName,
      type: element.type ?? "",
      role: element.getAttribute("role") ?? "",
      main: element.id === "main",
      name: name.replace(/\s+/g, " ").trim(),
      // The host of a field of time has the focus by its inner fields; its outline is asked below.
      ring: element.matches(":focus-visible") || element.type === "time",
      outline: `${style.outlineStyle} ${style.outlineWidth}`,
      // A control that is scrolled away, or lies under another, is a focus nobody sees.
      seen:
        box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
      where: `${box.left} to ${box.right} by ${box.top} to ${box.bottom} in ${innerWidth} by ${innerHeight}`,
    };
  });
}

/** Two frames: whatever the page mends after a press, it has mended by then. */
const settled = (page) =>
  page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));

/** A keyboard that checks the focus after each press. */
export function keyboard(page) {
  const visited = new Map();
  let presses = 0;

  async function check(after) {
    await settled(page);
    let at = await focused(page);
    // What is removed only after the store has answered takes the focus for a moment.
    for (let wait = 0; at.tag === "BODY" && wait < 20; wait += 1) {
      await page.waitForTimeout(50);
      at = await focused(page);
    }
    assert.ok(!["BODY", "HTML", "NONE"].includes(at.tag), `the focus is lost after ${after}`);
    // Headings and the frame of the screen get the focus from the page, after a change of screen;
    // they are no controls and need no ring.
    const control = !at.main && !/^H\d$/.test(at.tag) && at.tag !== "DIALOG";
    if (control) {
      assert.ok(at.ring, `no visible focus on “${at.name}” after ${after}`);
      assert.doesNotMatch(at.outline, /^none|\b0px/, `no ring on “${at.name}” after ${after}`);
      assert.ok(at.seen, `“${at.name}” has the focus out of sight (${at.where}) after ${after}`);
      visited.set(`${at.tag} ${at.name}`, at.outline);
    }
    return at;
  }

  async function press(key) {
    presses += 1;
    await page.keyboard.press(key);
    return check(key);
  }

  /** Goes on by Tab (or back) until the focused control's name fits; never round more than once. */
  async function to(pattern, { back = false, most = 90 } = {}) {
    const fits = ({ name }) => pattern.test(name);
    let at = await check("looking");
    const way = [];
    for (let step = 0; step < most; step += 1) {
      if (fits(at) && !at.main && !/^H\d$/.test(at.tag) && at.tag !== "DIALOG") return at;
      // The end of the page's controls is the browser's own; from there the next press comes in again.
      presses += 1;
      await page.keyboard.press(back ? "Shift+Tab" : "Tab");
      await settled(page);
      at = await focused(page);
      if (at.tag === "BODY") continue;
      at = await check(`Tab to ${pattern}`);
      way.push(at.name.slice(0, 40));
    }
    throw new Error(`no control ${pattern} by Tab; passed ${way.join(" | ")}`);
  }

  /** Goes to a control and presses it by Enter (links and buttons) or Space (boxes). */
  async function use(pattern, key = "Enter", options = {}) {
    await to(pattern, options);
    return press(key);
  }

  async function type(text) {
    presses += text.length;
    await page.keyboard.type(text);
    return check("typing");
  }

  /** Holds keys down for a while. */
  async function hold(keys, milliseconds) {
    presses += keys.length;
    for (const key of keys) await page.keyboard.down(key);
    await page.waitForTimeout(milliseconds);
    for (const key of keys) await page.keyboard.up(key);
    return check(`holding ${keys}`);
  }

  return { press, to, use, type, hold, check, visited, count: () => presses };
}
