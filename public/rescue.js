// The panic page and the way out for kept data, without the program.
//
// When the program has panicked its WebAssembly instance is dead, so this script uses nothing of
// it: plain browser interfaces only, and text is set as text, never as markup. It listens for
//   fitting-room:panic         { detail: message }            sent by the program's panic hook
//   fitting-room:cannot-start  { detail: { reason, message } } sent by boot.js
// and for a WebAssembly trap that reached the window without a panic (out of memory, deep stack).
"use strict";

(() => {
  /** Every word a person can read here. */
  const WORDS = {
    stopped: {
      title: "The program has stopped",
      happened: "Something went wrong inside the page and it cannot go on. It is not anything you did.",
      safe: "Whatever was kept in this browser is still there. What was being recorded at this moment may be lost. The stick itself is unchanged.",
      todo: "First save what is kept as a file, to be sure. Then load the page again.",
    },
    notStarted: {
      title: "The program could not start",
      happened: "A part of the page did not load or did not run. The network may have failed on the way.",
      safe: "Whatever was kept in this browser is still there and untouched.",
      todo: "Load the page again. If that does not help, try a current version of another browser.",
    },
    noWasm: {
      title: "This browser cannot run the page",
      happened: "The page needs WebAssembly, which this browser does not have or has switched off.",
      safe: "Whatever was kept in this browser is still there and untouched.",
      todo: "Switch WebAssembly on, or open the page in a current browser.",
    },
    headings: { happened: "What happened", safe: "What is safe", todo: "What to do" },
    reload: "Reload",
    save: "Save everything kept in this browser as a file",
    saving: "Reading what is kept …",
    saved: (count) => `Saved ${count} kept ${count === 1 ? "thing" : "things"} as a file.`,
    nothingKept: "Nothing is kept in this browser, so there is nothing to save.",
    saveFailed: "What is kept could not be read. It has not been changed. Load the page again and try once more.",
    detail: "For whoever repairs the page",
    fileName: "stick-fitting-room-rescue",
  };

  const DATABASE = "stick-fitting-room";
  const LONGEST_MESSAGE = 4000;

  const MESSAGES_BY_REASON = { "no-wasm": WORDS.noWasm, "not-loaded": WORDS.notStarted };

  function element(name, text, attributes = {}) {
    const made = document.createElement(name);
    if (text) made.textContent = text;
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    return made;
  }

  let shown = false;

  /** Puts the panic page in place of the program. The first call wins: later ones are echoes. */
  function show(words, message) {
    if (shown) return;
    shown = true;
    // Taken out, not hidden: an open window in it would keep everything outside it out of reach.
    for (const id of ["app", "shell"]) document.getElementById(id)?.remove();
    const page = element("main", "", { id: "rescue", class: "rescue" });
    const title = element("h1", words.title, { tabindex: "-1" });
    page.append(title);
    for (const part of ["happened", "safe", "todo"]) {
      page.append(element("h2", WORDS.headings[part]), element("p", words[part]));
    }

    const save = element("button", WORDS.save, { type: "button", class: "button" });
    const reload = element("button", WORDS.reload, { type: "button", class: "button" });
    const status = element("p", "", { role: "status" });
    save.addEventListener("click", () => saveEverything(save, status));
    reload.addEventListener("click", () => location.reload());
    const buttons = element("p", "", { class: "rescue-buttons" });
    buttons.append(save, " ", reload);
    page.append(buttons, status);

    if (message) {
      const details = element("details", "");
      const text = element("pre", message.slice(0, LONGEST_MESSAGE), { tabindex: "0" });
      details.append(element("summary", WORDS.detail), text);
      page.append(details);
    }

    document.title = words.title;
    document.body.append(page);
    title.focus();
  }

  async function saveEverything(button, status) {
    button.disabled = true;
    status.textContent = WORDS.saving;
    try {
      const parts = await exportParts();
      if (parts.count === 0) {
        status.textContent = WORDS.nothingKept;
      } else {
        offerFile(new Blob(parts.text, { type: "application/json" }));
        status.textContent = WORDS.saved(parts.count);
      }
    } catch (error) {
      console.error(error);
      status.textContent = WORDS.saveFailed;
    }
    button.disabled = false;
    button.focus();
  }

  function offerFile(blob) {
    const address = URL.createObjectURL(blob);
    const day = new Date().toISOString().slice(0, 10);
    const link = element("a", "", { href: address, download: `${WORDS.fileName}-${day}.json` });
    document.body.append(link);
    link.click();
    link.remove();
    // Long enough for any browser to have begun reading it.
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
  }

  /** The file as a list of strings, so that no single string has to hold every recording. */
  async function exportParts() {
    const text = [];
    let count = 0;
    const database = await openExisting();
    text.push(`{"kind":"rescue","schema":1,"made":${JSON.stringify(new Date().toISOString())}`);
    text.push(`,"database":${JSON.stringify(DATABASE)}`);
    text.push(`,"database_version":${database ? database.version : 0},"stores":{`);
    if (database) {
      const names = Array.from(database.objectStoreNames);
      for (const [index, name] of names.entries()) {
        text.push(`${index ? "," : ""}${JSON.stringify(name)}:[`);
        count += await readStore(database, name, text);
        text.push("]");
      }
      database.close();
    }
    text.push("}}");
    return { text, count };
  }

  /** Opens the store as it is; null where there is none. Never makes or upgrades one: the program
      would later find an empty store without its tables. */
  function openExisting() {
    return new Promise((resolve, reject) => {
      const request = indexedDB.open(DATABASE);
      request.onupgradeneeded = () => request.transaction.abort();
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => {
        if (request.error && request.error.name === "AbortError") resolve(null);
        else reject(request.error);
      };
    });
  }

  function readStore(database, name, text) {
    return new Promise((resolve, reject) => {
      let count = 0;
      const transaction = database.transaction(name, "readonly");
      const request = transaction.objectStore(name).openCursor();
      request.onsuccess = () => {
        const cursor = request.result;
        if (!cursor) return;
        const record = { key: plain(cursor.key), value: plain(cursor.value) };
        text.push((count ? "," : "") + JSON.stringify(record));
        count += 1;
        cursor.continue();
      };
      transaction.oncomplete = () => resolve(count);
      transaction.onerror = () => reject(transaction.error);
      transaction.onabort = () => reject(transaction.error);
    });
  }

  /** What JSON cannot carry, in a tagged form that loses nothing. */
  function plain(value) {
    if (value instanceof Date) return { $date: value.toISOString() };
    if (value instanceof ArrayBuffer) return { $bytes: base64(new Uint8Array(value)) };
    if (ArrayBuffer.isView(value)) {
      const bytes = new Uint8Array(value.buffer, value.byteOffset, value.byteLength);
      return { $bytes: base64(bytes), $type: value.constructor.name };
    }
    if (typeof value === "bigint") return { $integer: value.toString() };
    if (typeof value === "number" && !Number.isFinite(value)) return { $number: String(value) };
    if (value instanceof Map) {
      return { $map: Array.from(value, ([key, item]) => [plain(key), plain(item)]) };
    }
    if (value instanceof Set) return { $set: Array.from(value, plain) };
    if (Array.isArray(value)) return value.map(plain);
    if (value && typeof value === "object") {
      return Object.fromEntries(Object.entries(value).map(([key, item]) => [key, plain(item)]));
    }
    return value;
  }

  function base64(bytes) {
    let binary = "";
    for (let start = 0; start < bytes.length; start += 0x8000) {
      binary += String.fromCharCode.apply(null, bytes.subarray(start, start + 0x8000));
    }
    return btoa(binary);
  }

  function isTrap(error) {
    return typeof WebAssembly === "object" && error instanceof WebAssembly.RuntimeError;
  }

  window.addEventListener("fitting-room:panic", (event) => {
    show(WORDS.stopped, typeof event.detail === "string" ? event.detail : "");
  });
  window.addEventListener("fitting-room:cannot-start", (event) => {
    const { reason, message } = event.detail || {};
    show(MESSAGES_BY_REASON[reason] || WORDS.notStarted, typeof message === "string" ? message : "");
  });
  window.addEventListener("error", (event) => {
    if (isTrap(event.error)) show(WORDS.stopped, String(event.error));
  });
  window.addEventListener("unhandledrejection", (event) => {
    if (isTrap(event.reason)) show(WORDS.stopped, String(event.reason));
  });
})();
