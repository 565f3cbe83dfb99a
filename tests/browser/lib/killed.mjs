// A browser with a profile that lasts, which can be killed: the whole group of its processes at
// once, with SIGKILL, as a crash of the machine's memory would. (Loss of power is another matter:
// whether a disk keeps what it said it kept nobody here can test.)

import { spawn } from "node:child_process";
import { rmSync } from "node:fs";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { chromium } from "playwright-core";

import { FLAGS } from "./browser.mjs";
import { goTo } from "./cards.mjs";
import { sentence } from "./person.mjs";
import { scriptedPad } from "./scripted-pad.mjs";

/** A device whose every state is known, put into each page. */
export const SCRIPTS = [[scriptedPad, { period: 4 }]];

/** A profile of its own; `remove` it at the end. */
export async function profile() {
  const folder = await mkdtemp(join(tmpdir(), "stick-fitting-room-"));
  return { folder, remove: () => rm(folder, { recursive: true, force: true, maxRetries: 5 }) };
}

/** Starts a browser on a profile; `page` is its first page, with `scripts` run before the page's own. */
export async function start(folder, scripts = SCRIPTS) {
  // A browser that does not answer at all is started anew: what is looked at here is the page.
  for (let tries = 3; ; tries -= 1) {
    const { browser, gone } = spawned(folder);
    const kill = async () => {
      process.kill(-browser.pid, "SIGKILL");
      await gone;
    };
    try {
      const address = `http://127.0.0.1:${await portOf(folder)}`;
      const driver = await chromium.connectOverCDP(address, { timeout: 10_000 });
      const context = driver.contexts()[0];
      context.setDefaultTimeout(20_000);
      for (const [script, argument] of scripts) await context.addInitScript(script, argument);
      const page = await context.newPage();
      return { page, kill: () => kill().then(() => driver.close().catch(() => {})) };
    } catch (error) {
      await kill();
      if (tries === 1) throw error;
    }
  }
}

/** Its processes in a group of their own, so that none outlives the others. */
function spawned(folder) {
  const program = process.env.CHROMIUM || "/usr/bin/chromium";
  rmSync(join(folder, "DevToolsActivePort"), { force: true });
  const flags = [...FLAGS, "--headless=new", "--remote-debugging-port=0", `--user-data-dir=${folder}`];
  const browser = spawn(program, flags, { detached: true, stdio: "ignore" });
  return { browser, gone: new Promise((resolve) => browser.once("exit", resolve)) };
}

/** The port that the browser chose, which it writes into its profile. */
async function portOf(folder) {
  for (const end = Date.now() + 30_000; Date.now() < end; ) {
    const text = await readFile(join(folder, "DevToolsActivePort"), "utf8").catch(() => "");
    const port = Number(text.split("\n")[0]);
    if (port > 0) return port;
    await new Promise((done) => setTimeout(done, 50));
  }
  throw new Error("the browser did not start");
}

/** Connects a scripted stick and chooses it. */
export async function openStick(page, address) {
  await page.goto(`${address}#/stick`);
  await page.evaluate(() => {
    window.scriptedStick.connect(0, { id: "Bench stick", axes: 2, buttons: 2, noise: 0.01 });
    return window.scriptedStick.press(0, 0);
  });
  await page.getByRole("button", { name: /^Bench stick/ }).click();
}

/** Begins the first task of the shortest plan that is left. */
export async function beginTask(page, name = /^Start: /) {
  await page.getByRole("button", { name }).first().click();
  await page.getByRole("button", { name: "Begin", exact: true }).click();
}

/** Seconds recorded in each kept task, as they lie in the browser's database, in order. */
function keptSeconds(page) {
  return page.evaluate(async () => {
    const done = (request) =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const database = await done(indexedDB.open("stick-fitting-room"));
    const rows = await done(database.transaction("tasks").objectStore("tasks").getAll());
    database.close();
    const tasks = rows.map((row) => JSON.parse(row.json).body).sort((one, other) => one.order - other.order);
    const length = ({ from_seconds, to_seconds }) => to_seconds - from_seconds;
    return tasks.map((task) => task.record.recording.polled.reduce((sum, span) => sum + length(span), 0));
  });
}

/**
 * One task kept and shown as kept, then a second one, in which the browser is killed so many seconds
 * after it began; opened again, what is left of it is kept. Says how long it had run, how much of it
 * was lost, and how many tasks there are then.
 */
export async function killedAt(address, seconds) {
  const { folder, remove } = await profile();
  try {
    const first = await start(folder);
    const { page } = first;
    await openStick(page, address);
    await goTo(page, "ready");
    await page.getByRole("textbox", { name: "A name for this fitting" }).fill("Before the crash");
    await page.getByRole("textbox", { name: "A name for this fitting" }).press("Tab");
    await goTo(page, "measure");
    await page.getByRole("button", { name: /^3 minutes/ }).click();
    await beginTask(page, /^Start: Hands off/);
    await sentence(page).filter({ hasText: /^That is enough/ }).waitFor({ timeout: 60_000 });
    await page.getByRole("button", { name: /^(Next: |Done)/ }).click();
    await goTo(page, "hand-over");
    await page.getByText(/^Kept in this browser at/).waitFor();

    await goTo(page, "measure");
    await beginTask(page);
    const began = performance.now();
    await page.waitForTimeout(seconds * 1000);
    const ran = (performance.now() - began) / 1000;
    await first.kill();

    const second = await start(folder);
    await second.page.goto(`${address}#/ready`);
    await second.page.getByRole("heading", { name: "A task was not finished" }).waitFor();
    const line = await second.page.locator("section[aria-labelledby=unfinished] strong").textContent();
    await second.page.getByRole("button", { name: /^Keep it and go on/ }).click();
    await second.page.waitForFunction(() => location.hash === "#/measure");
    const kept = await keptSeconds(second.page);
    await goTo(second.page, "ready");
    const asked = await second.page.getByRole("heading", { name: "A task was not finished" }).count();
    await second.kill();
    return { ran, lost: ran - kept.at(-1), tasks: kept.length, line, asked };
  } finally {
    await remove();
  }
}
