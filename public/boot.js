// Starts the program. A file of its own because the page's policy allows no inline script.
//
// Words: none here. What a person reads when this fails stands in index.html (`shell-problem`)
// and in rescue.js, which listens for the events sent below.

/** Tells rescue.js, and shows the plain sentence in the shell in case rescue.js is not there. */
function cannotStart(reason, detail) {
  const loading = document.getElementById("shell-loading");
  const problem = document.getElementById("shell-problem");
  if (loading) loading.hidden = true;
  if (problem) problem.hidden = false;
  window.dispatchEvent(
    new CustomEvent("fitting-room:cannot-start", { detail: { reason, message: String(detail) } }),
  );
}

/** The styles of the screens behind the first two, before those for paper, which have the last word. */
function laterStyles() {
  const print = document.querySelector("link[href$='print.css']");
  for (const name of ["asking", "devices", "drawings", "papers", "forced", "sharing"]) {
    const link = document.createElement("link");
    link.rel = "stylesheet";
    link.href = `styles/${name}.css`;
    print.before(link);
  }
}

async function start() {
  if (typeof WebAssembly !== "object" || typeof WebAssembly.instantiate !== "function") {
    cannotStart("no-wasm", "WebAssembly is missing");
    return;
  }
  try {
    // Imported here, not at the top, so that a missing file is caught and told.
    const program = await import("./page.js");
    await program.default({ module_or_path: new URL("./page_bg.wasm", import.meta.url) });
    laterStyles();
    // The use with no network; where it cannot be had, all else works as before.
    import("./offline.js").catch(() => {});
  } catch (error) {
    cannotStart("not-loaded", error);
  }
}

start();
