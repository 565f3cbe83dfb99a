// The page's side of its use with no network (sw.js): sees to the worker, and says when a new version
// waits or was taken up. Fetched by boot.js once the first screen is drawn; without it, or where a
// browser has no such worker, everything else works as before.
//
// With the program it speaks by events on the window:
//   fitting-room:version         { detail: JSON text }  to the program: how it stands, see `tell`
//   fitting-room:version-asked                          from it: say it again
//   fitting-room:take-up                                from it: take up the new version now
//   fitting-room:changes-read                           from it: what changed was read
//
// Words: none here. What changed stands in changes.json, the rest in the program.

/** The number of the newest change that was read in this browser; a small note, of no person. */
const READ = "stick-fitting-room:changes-read";
/** How long the page was out of sight before it asks whether there is a new version, milliseconds. */
const LONG_AWAY = 3_600_000;

const worker = new URL("sw.js", import.meta.url);
let standing = { state: "nothing", changes: [] };
/** The number of the newest change that is told of now. */
let newest = 0;

/**
 * Says how it stands: `state` is "nothing", "waiting" (a new version), "others" (it cannot be taken
 * up because the page is open elsewhere too) or "changed" (this version has news), `changes` the
 * sentences that were not read yet, the newest first.
 */
function tell(state, changes = standing.changes) {
  standing = { state, changes };
  say();
}

function say() {
  const detail = JSON.stringify(standing);
  window.dispatchEvent(new CustomEvent("fitting-room:version", { detail }));
}

/** Nothing where the browser keeps nothing. */
function lastRead() {
  try {
    const kept = localStorage.getItem(READ);
    return kept === null ? null : Number(kept);
  } catch {
    return null;
  }
}

function noteRead() {
  try {
    localStorage.setItem(READ, String(newest));
  } catch {
    // Told again another time.
  }
}

/** The sentences of a list of changes that were not read yet. On a first visit nothing is news. */
function unread(text) {
  let list = [];
  try {
    list = JSON.parse(text).changes;
  } catch {
    return [];
  }
  newest = Math.max(0, ...list.map(({ number }) => number));
  const read = lastRead();
  if (read === null) {
    noteRead();
    return [];
  }
  const fresh = list.filter(({ number }) => number > read);
  return fresh.sort((a, b) => b.number - a.number).flatMap(({ says }) => says);
}

/** Asks a worker and gives its answer. */
function ask(whom, what) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    whom.postMessage(what, [port2]);
  });
}

async function tellWaiting(registration, waiting) {
  const changes = await ask(waiting, "changes");
  // Where the old version was given up, the new one has taken its place by now.
  if (registration.waiting === waiting) tell("waiting", unread(changes));
}

/** Follows a version that is being taken in; one that failed is tried again another time. */
function follow(registration) {
  const { installing } = registration;
  // With nothing active yet it is the first one, which is no news.
  if (!installing || !registration.active) return;
  installing.addEventListener("statechange", () => {
    if (installing.state === "installed") void tellWaiting(registration, installing);
  });
}

async function takeUp(registration) {
  const { waiting } = registration;
  // Taken up by another window in the meantime: this one has to be loaded anew to have it.
  if (!waiting) return location.reload();
  waiting.addEventListener("statechange", () => {
    if (waiting.state === "activated") location.reload();
  });
  if ((await ask(waiting, "take up")) === "others") tell("others");
}

/** Asks for a new version after a long time out of sight: an open page is not loaded by itself. */
function askAfterLongAway(registration) {
  let since = Date.now();
  document.addEventListener("visibilitychange", () => {
    if (document.hidden) since = Date.now();
    else if (Date.now() - since > LONG_AWAY) registration.update().catch(() => {});
  });
}

async function start() {
  window.addEventListener("fitting-room:version-asked", say);
  window.addEventListener("fitting-room:changes-read", () => {
    noteRead();
    tell("nothing", []);
  });
  const answer = await fetch(new URL("changes.json", import.meta.url));
  if (answer.ok) {
    const changes = unread(await answer.text());
    if (changes.length > 0) tell("changed", changes);
  }
  // Missing in old browsers, and on pages that came neither over https nor from this machine.
  if (!navigator.serviceWorker) return;
  const registration = await navigator.serviceWorker.register(worker, { updateViaCache: "none" });
  window.addEventListener("fitting-room:take-up", () => void takeUp(registration));
  registration.addEventListener("updatefound", () => follow(registration));
  follow(registration);
  if (registration.waiting && registration.active) await tellWaiting(registration, registration.waiting);
  askAfterLongAway(registration);
}

// Refused (a private window, storage switched off): then the page needs the network, as it says.
start().catch(() => {});
