// A browser with a profile that lasts, which can be killed: the whole group of its processes at
// once, with SIGKILL, as a crash of the machine's memory would. (Loss of power is another matter:
// whether a disk keeps what it said it kept nobody here can test.)

import { spawn } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

import { chromium } from "playwright-core";

import { FLAGS } from "./browser.mjs";

/** A profile of its own; `remove` it at the end. */
export async function profile() {
  const folder = await mkdtemp(join(tmpdir(), "stick-fitting-room-"));
  return { folder, remove: () => rm(folder, { recursive: true, force: true, maxRetries: 5 }) };
}

/** Starts a browser on a profile; `page` is its first page, with `scripts` run before the page's own. */
export async function start(folder, scripts = []) {
  const program = process.env.CHROMIUM || "/usr/bin/chromium";
  await rm(join(folder, "DevToolsActivePort"), { force: true });
  const flags = [...FLAGS, "--headless=new", "--remote-debugging-port=0", `--user-data-dir=${folder}`];
  // A group of its own, so that none of its processes outlives the others.
  const browser = spawn(program, flags, { detached: true, stdio: "ignore" });
  const gone = new Promise((resolve) => browser.once("exit", resolve));
  const port = await portOf(folder);
  const driver = await chromium.connectOverCDP(`http://127.0.0.1:${port}`);
  const context = driver.contexts()[0];
  context.setDefaultTimeout(20_000);
  for (const [script, argument] of scripts) await context.addInitScript(script, argument);
  const page = await context.newPage();
  return {
    page,
    async kill() {
      process.kill(-browser.pid, "SIGKILL");
      await gone;
      await driver.close().catch(() => {});
    },
  };
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
