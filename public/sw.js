// Keeps one whole version of the page in the browser's cache, so that it works with no network.
//
// - Every file is held against its SHA-256 before it is kept and again before it is handed out. A
//   version is taken in whole or not at all, and never are two mixed.
// - A new version waits: until every window with the page is closed, or until a page asks for it
//   and is the only one open (offline.js; the program asks only while no task runs).
// - A file that is missing or wrong is fetched again. Where the host has another version by now,
//   the old one is given up, and the page comes plainly from the network.
// - Only the files of the list are kept, and nothing that a person did. Nothing else is touched.
//
// Words: none here.
"use strict";

// Both are written by `cargo xtask build`. An empty list keeps nothing: the worker goes away, as in
// a quick build for development.
const VERSION = "";
const FILES = {};

const INDEX = "index.html";
const CHANGES = "changes.json";
const SCOPE = self.registration.scope;
/** What the names of all our caches begin with: another folder of the same host is no business of ours. */
const PREFIX = `stick-fitting-room ${SCOPE} `;
const NAME = PREFIX + VERSION;

/** Set once this version was given up: from then on everything comes from the network. */
let gaveUp = false;

/** The network was reached and has no such file, or another one. */
class OtherFile extends Error {}

/** The file of the list that an address means; null where it means none. */
function pathOf(address) {
  if (gaveUp || !address.startsWith(SCOPE)) return null;
  const { origin, pathname, search } = new URL(address);
  const path = (origin + pathname).slice(SCOPE.length) || INDEX;
  if (search && path !== INDEX) return null;
  return Object.hasOwn(FILES, path) ? path : null;
}

/** The address of a file. The page itself is asked for as its folder: hosts lead from its name to there. */
function addressOf(path) {
  return new URL(path === INDEX ? "./" : path, SCOPE).href;
}

/** The answer, read to its end, if it is exactly the file of the list; else null. */
async function exact(answer, path) {
  const body = await answer.arrayBuffer();
  const digest = new Uint8Array(await crypto.subtle.digest("SHA-256", body));
  const hash = Array.from(digest, (byte) => byte.toString(16).padStart(2, "0")).join("");
  if (hash !== FILES[path]) return null;
  const headers = new Headers(answer.headers);
  // They speak of the body as it was on the way, and of whom a cache may hand it to.
  for (const name of ["content-encoding", "content-length", "vary"]) headers.delete(name);
  return new Response(body, { headers });
}

/** The file out of a cache; null where it is missing or wrong. */
async function kept(name, path) {
  try {
    const answer = await caches.match(addressOf(path), { cacheName: name });
    return answer ? await exact(answer, path) : null;
  } catch {
    return null; // what cannot be read is not there
  }
}

/** The file from the network: what the browser has of it already, else what the host has now. */
async function fetched(path) {
  for (const cache of ["force-cache", "reload"]) {
    const answer = await fetch(addressOf(path), { cache, credentials: "same-origin" });
    const file = await exact(answer, path);
    if (file) return file;
  }
  throw new OtherFile(path);
}

/** Puts a file into this version's cache. A full cache costs the offline use, not the file. */
async function keep(path, file) {
  const cache = await caches.open(NAME);
  await cache.put(addressOf(path), file);
}

const ownCaches = async () => (await caches.keys()).filter((name) => name.startsWith(PREFIX));

/** Takes in the whole version; what an older one has of it already is not fetched again. */
async function install() {
  const names = [NAME, ...(await ownCaches())];
  for (const path of Object.keys(FILES)) {
    let file = null;
    for (const name of names) file ??= await kept(name, path);
    await keep(path, file ?? (await fetched(path)));
  }
  // No older version is there that somebody could be using: it was given up, or this is the first.
  if (names.every((name) => name === NAME)) await self.skipWaiting();
}

/** Fetches what is missing in this version's cache altogether: all of it, or nothing is changed. */
async function mend() {
  const requests = (await caches.has(NAME)) ? await (await caches.open(NAME)).keys() : [];
  const there = new Set(requests.map(({ url }) => url));
  const missing = Object.keys(FILES).filter((path) => !there.has(addressOf(path)));
  const files = await Promise.all(missing.map(fetched));
  await Promise.all(missing.map((path, at) => keep(path, files[at])));
}

async function giveUp() {
  gaveUp = true;
  await caches.delete(NAME);
  await self.registration.unregister();
}

/** Answers with a file of the list. */
async function serve(path, request) {
  // A page that is being opened must not find half of its files.
  if (path === INDEX) {
    try {
      await mend();
    } catch (error) {
      if (error instanceof OtherFile) {
        await giveUp();
        return fetch(request);
      }
      // No network, or no room: what is there may do.
    }
  }
  const file = await kept(NAME, path);
  if (file) return file;
  try {
    const file = await fetched(path);
    await keep(path, file.clone()).catch(() => {});
    return file;
  } catch (error) {
    if (!(error instanceof OtherFile)) return Response.error();
    await giveUp();
    // The rest of an open page is of this version: a file of another would not fit.
    return path === INDEX ? fetch(request) : Response.error();
  }
}

/** Tells a page what is new in this version: the text of the list of changes. */
async function tellChanges(port) {
  const file = await kept(NAME, CHANGES);
  port.postMessage(file ? await file.text() : "");
}

/** Takes over if the page that asks is the only one open; else says so. */
async function takeUp(asking, port) {
  const windows = await clients.matchAll({ type: "window", includeUncontrolled: true });
  const others = windows.filter(({ id, url }) => id !== asking.id && url.startsWith(SCOPE));
  if (others.length > 0) port.postMessage("others");
  else await self.skipWaiting();
}

self.addEventListener("install", (event) => {
  if (VERSION) event.waitUntil(install());
  else self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  const clear = async () => {
    const old = (await ownCaches()).filter((name) => !VERSION || name !== NAME);
    await Promise.all(old.map((name) => caches.delete(name)));
    if (!VERSION) await self.registration.unregister();
  };
  event.waitUntil(clear());
});

self.addEventListener("message", (event) => {
  const [port] = event.ports;
  if (!port) return;
  if (event.data === "changes") event.waitUntil(tellChanges(port));
  if (event.data === "take up") event.waitUntil(takeUp(event.source, port));
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const path = request.method === "GET" ? pathOf(request.url) : null;
  if (path) event.respondWith(serve(path, request));
  // Whatever else is of this host goes to the network as it is; there is nobody else to ask.
  else if (new URL(request.url).origin !== self.location.origin) event.respondWith(Response.error());
});
