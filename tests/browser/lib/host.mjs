// A host of plain files that a run can stop, cut off and give another build, always at one address.
// It sends no header but the type: the least that any host does.

import { execFile } from "node:child_process";
import { cp, mkdtemp, readFile, rm } from "node:fs/promises";
import { createServer } from "node:http";
import { tmpdir } from "node:os";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";

const ROOT = fileURLToPath(new URL("../../../", import.meta.url));
const TYPES = {
  ".css": "text/css",
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".json": "application/json",
  ".png": "image/png",
  ".svg": "image/svg+xml",
  ".txt": "text/plain",
  ".wasm": "application/wasm",
  ".webmanifest": "application/manifest+json",
  ".woff2": "font/woff2",
};

/** A copy of the built page that may be changed; `remove` it at the end. */
export async function buildCopy() {
  const folder = await mkdtemp(join(tmpdir(), "fitting-room-"));
  await cp(join(ROOT, "dist"), folder, { recursive: true });
  return folder;
}

/** Writes the list of files for use offline anew, by the same code as the build. */
export async function listFiles(folder) {
  await promisify(execFile)("cargo", ["xtask", "list-files", folder], { cwd: ROOT });
}

export const remove = (folder) => rm(folder, { recursive: true, force: true });

/**
 * A host of `folder` on a free port.
 *
 * - `folder`: what is served; set it to serve another build;
 * - `rule(path)`: what happens to a request: nothing, "cut" (the connection breaks) or a folder to
 *   take this file from;
 * - `asked`: the paths asked for so far;
 * - `stop()`, `start()`: takes it down and brings it back at the same address.
 */
export async function host(folder) {
  const it = { folder, rule: () => undefined, asked: [] };
  const answer = async (request, response) => {
    const path = new URL(request.url, "http://here/").pathname.slice(1) || "index.html";
    it.asked.push(path);
    const rule = it.rule(path);
    if (rule === "cut") return void request.socket.destroy();
    const body = await readFile(join(rule ?? it.folder, path)).catch(() => null);
    const type = TYPES[extname(path)] ?? "application/octet-stream";
    response.writeHead(body ? 200 : 404, { "content-type": type, "cache-control": "no-cache" });
    response.end(body ?? "There is no such file here.");
  };
  let server;
  let port = 0;
  it.start = () =>
    new Promise((resolve, reject) => {
      server = createServer(answer).on("error", reject);
      server.listen(port, "127.0.0.1", () => {
        port = server.address().port;
        it.address = `http://127.0.0.1:${port}/`;
        resolve();
      });
    });
  it.stop = () =>
    new Promise((resolve) => {
      server.close(resolve);
      server.closeAllConnections();
    });
  await it.start();
  return it;
}
