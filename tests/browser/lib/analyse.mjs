// The program `analyse`, which measures files outside the browser. `cargo xtask test` builds it and
// says in ANALYSE where it lies; when a run is started by hand it is the one built last.

import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";

const program = process.env.ANALYSE ?? fileURLToPath(new URL("../../../target/debug/analyse", import.meta.url));

/** What it says of these files, and how it ends. `lines`: so many are read, then nobody reads on. */
export function analyse(words, { lines = Infinity } = {}) {
  if (!existsSync(program)) throw new Error(`there is no ${program}: cargo build -p analysis`);
  return new Promise((resolve, reject) => {
    const child = spawn(program, words, { stdio: ["ignore", "pipe", "pipe"] });
    const said = { out: "", err: "" };
    child.stdout.setEncoding("utf8").on("data", (text) => {
      said.out += text;
      if (said.out.split("\n").length > lines) child.stdout.destroy();
    });
    child.stderr.setEncoding("utf8").on("data", (text) => (said.err += text));
    child.on("error", reject);
    child.on("close", (code, signal) => resolve({ ...said, code: code ?? signal }));
  });
}

const isValue = (cell) => /^(-?\d[\d.]*(e-?\d+)?|–|-|yes|no)$/.test(cell ?? "");

/**
 * The rows of a text of figures, the page's or the program's, by name and what it is of: value and
 * interval, each as it is written.
 */
export function figures(text) {
  const rows = new Map();
  for (const line of text.split("\n")) {
    const [name, ...cells] = line.trim().split(/ {2,}/);
    if (!/^ {2}[a-z_]+(\.[a-z_]+)*( |$)/.test(line)) continue;
    // What it is of may be a number too, such as the level of a hold.
    const of = isValue(cells[0]) && !isValue(cells[1]) ? "" : cells.shift();
    const [value, interval = ""] = cells;
    if (!isValue(value)) continue;
    rows.set(`${name} ${of.replaceAll("_", " ")}`.trim(), [
      value === "–" ? "-" : value,
      / to /.test(interval) ? interval : "",
    ]);
  }
  return rows;
}
