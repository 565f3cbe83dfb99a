// Draws the PNG icons from the SVG ones: `node lib/icons.mjs`, after an SVG was changed.

import { readFile } from "node:fs/promises";
import { fileURLToPath } from "node:url";

import { launch } from "./browser.mjs";

const FOLDER = new URL("../../../public/icons/", import.meta.url);

const browser = await launch();
for (const name of ["icon", "icon-maskable"]) {
  const svg = await readFile(new URL(`${name}.svg`, FOLDER), "utf8");
  for (const size of [192, 512]) {
    const page = await browser.newPage({ viewport: { width: size, height: size } });
    await page.setContent(`<style>body{margin:0}svg{display:block;width:100vw}</style>${svg}`);
    const path = fileURLToPath(new URL(`${name}-${size}.png`, FOLDER));
    await page.screenshot({ path, omitBackground: true });
    await page.close();
  }
}
await browser.close();
