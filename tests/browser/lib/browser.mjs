// A browser with an empty profile, and a watch on everything a page does that it should not.

import { mkdirSync, writeFileSync } from "node:fs";
import { basename } from "node:path";
import { fileURLToPath } from "node:url";

import { chromium } from "playwright-core";

/** Where every request of every run is listed: one file for each file of runs. */
const LISTED = fileURLToPath(new URL("../out/requests/", import.meta.url));

/** What every browser of the runs is started with. */
export const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--no-first-run",
  // Timers and frames keep their pace although no window is on top.
  "--disable-background-timer-throttling",
  "--disable-backgrounding-occluded-windows",
  "--disable-renderer-backgrounding",
];

/** Starts Chromium: the one named by CHROMIUM, else the usual place. */
export function launch() {
  return chromium.launch({
    executablePath: process.env.CHROMIUM || "/usr/bin/chromium",
    headless: true,
    args: FLAGS,
  });
}

/**
 * A new visitor: an empty profile with one page.
 *
 * - `address`: the page's own address; any request elsewhere, or for a file that is not one of the
 *   built page, is a problem. Requests of its worker count like its own.
 * - `scheme`: "light" or "dark"; `size`: { width, height }; `still`: prefers reduced motion.
 * - `scripts`: [[function, argument], …] run before the page's own, such as a scripted device.
 * - `allow`: patterns of problems that this run brings about on purpose.
 */
export async function visitor(browser, options) {
  const { address, scheme = "light", size = { width: 1280, height: 800 } } = options;
  const { still = false, scripts = [], allow = [], ...more } = options;
  for (const known of ["address", "scheme", "size"]) delete more[known];
  const context = await browser.newContext({
    viewport: size,
    colorScheme: scheme,
    reducedMotion: still ? "reduce" : "no-preference",
    acceptDownloads: true,
    locale: "en-GB",
    ...more,
  });
  context.setDefaultTimeout(15_000);

  const requests = [];
  const problems = [];
  const problem = (text) => {
    if (!allow.some((pattern) => pattern.test(text))) problems.push(text);
  };
  const origin = new URL(address).origin;
  const files = await ownFiles(address);
  context.on("request", (request) => {
    const url = request.url();
    const by = request.serviceWorker() ? "worker" : "page";
    requests.push({ method: request.method(), url, by });
    if (!isOwn(url, origin)) problem(`foreign request: ${request.method()} ${url}`);
    else if (!isOwnFile(url, address, files)) problem(`request for no file of the page: ${url}`);
    if (request.method() !== "GET") problem(`request that is no GET: ${request.method()} ${url}`);
  });
  context.on("requestfailed", (request) => {
    const why = request.failure()?.errorText;
    // A page that is left in the middle of loading breaks off what it had asked for.
    if (why !== "net::ERR_ABORTED") problem(`failed request: ${request.url()} (${why})`);
  });
  context.on("response", (response) => {
    if (response.status() >= 400) problem(`answer ${response.status()}: ${response.url()}`);
  });
  context.on("weberror", (error) => problem(`uncaught error: ${error.error()}`));
  context.on("console", (message) => {
    // Asked for by the browser itself on a document without an icon: a plain text file here.
    if (message.location().url === `${origin}/favicon.ico`) return;
    const kind = message.type();
    if (kind === "error" || kind === "warning") problem(`console ${kind}: ${message.text()}`);
  });
  await context.exposeBinding("reportPolicyViolation", (_source, text) => {
    problem(`policy violation: ${text}`);
  });
  await context.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) => {
      const from = `${event.sourceFile}:${event.lineNumber}`;
      window.reportPolicyViolation(`${event.violatedDirective} ${event.blockedURI} ${from}`);
    });
  });
  for (const [script, argument] of scripts) await context.addInitScript(script, argument);

  const page = await context.newPage();
  return {
    context,
    page,
    requests,
    problems,
    /** Throws if anything happened that should not have. */
    assertClean() {
      if (problems.length > 0) throw new Error(`the page misbehaved:\n  ${problems.join("\n  ")}`);
    },
    async close() {
      await context.close();
      list(requests, address);
    },
  };
}

/** Waits until what the page says is so; unlike the driver's own way, it waits for promises, too. */
export const until = (page, says, argument) => comesTrue(() => page.evaluate(says, argument), says);

/** Waits until what is asked, again and again, is so. */
export async function comesTrue(ask, what = ask) {
  for (const end = Date.now() + 15_000; !(await ask()); ) {
    if (Date.now() > end) throw new Error(`never came true: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
}

/** Waits until the worker for use offline has everything and is the one in use. */
export const worksOffline = (page) =>
  until(page, async () => (await navigator.serviceWorker.ready).active.state === "activated");

/** Blobs and data are made by the page itself and go nowhere. */
function isOwn(url, origin) {
  return url.startsWith(`${origin}/`) || url.startsWith(`blob:${origin}/`) || url.startsWith("data:");
}

/** The files of the built page, as its worker lists them; null where it lists none (a quick build). */
async function ownFiles(address) {
  lists[address] ??= (async () => {
    const text = await (await fetch(`${address}sw.js`)).text();
    const list = text.match(/^const FILES = (\{[^}]*\});$/m);
    const files = list ? Object.keys(JSON.parse(list[1])) : [];
    return files.length > 0 ? new Set([...files, "", "sw.js"]) : null;
  })();
  return lists[address];
}
const lists = {};

function isOwnFile(url, address, files) {
  if (!files || !url.startsWith("http")) return true;
  return url.startsWith(address) && files.has(url.slice(address.length).replace(/#.*/, ""));
}

const listed = new Set();

/** Adds the requests of a visit to the list of this file of runs. */
function list(requests, address) {
  for (const { method, url, by } of requests) {
    // What is in a link stands behind its #, and is sent to nobody.
    const path = url.startsWith("blob:") ? "blob:" : url.replace(address, "/").replace(/#.*/, "");
    listed.add(`${by} ${method} ${path.slice(0, 200)}`);
  }
  mkdirSync(LISTED, { recursive: true });
  const file = `${LISTED}${basename(process.argv[1] ?? "by-hand")}.txt`;
  writeFileSync(file, `${[...listed].sort().join("\n")}\n`);
}
