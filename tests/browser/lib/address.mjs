// Where the built page is served: by `cargo xtask test`, which says so in PAGE_ADDRESS, or by a
// server started here when a run is started by hand (`node --test runs/`).

import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../../../", import.meta.url));
let started;
let startedBare;

/** The page's address, with a slash at its end. */
export function pageAddress() {
  if (process.env.PAGE_ADDRESS) return Promise.resolve(process.env.PAGE_ADDRESS);
  started ??= startServer([]);
  return started;
}

/** The address of the same page from a host that sends no protecting headers. */
export function bareAddress() {
  startedBare ??= startServer(["--bare"]);
  return startedBare;
}

function startServer(more) {
  const server = spawn("cargo", ["xtask", "serve", "--no-build", "--port", "0", ...more], {
    cwd: root,
    stdio: ["ignore", "pipe", "inherit"],
  });
  process.on("exit", () => server.kill());
  return new Promise((resolve, reject) => {
    let text = "";
    server.stdout.on("data", (bytes) => {
      text += bytes;
      const found = text.match(/http:\/\/[0-9.:]+\//);
      if (!found) return;
      // From here on it does not keep the run alive; before, nothing else would.
      server.unref();
      server.stdout.unref?.();
      resolve(found[0]);
    });
    server.on("exit", () => reject(new Error(`the page could not be served: ${text}`)));
  });
}
