// Pictures of a screen at the sizes it has to be right at, into tests/browser/out/.

import { mkdir } from "node:fs/promises";
import { fileURLToPath } from "node:url";

export const OUT = fileURLToPath(new URL("../out/", import.meta.url));

/** Every screen with an address of its own. */
export const SCREENS = [
  ...["ready", "today", "set-up", "sites", "stick", "who-speaks", "what-gets-through", "together", "buttons"],
  ...["host", "choosing", "questions", "measure", "settings", "details", "try", "hand-over", "summary"],
  ...["handover-sheet", "need-letter", "loan-card", "kept"],
];

export const SIZES = [
  { width: 320, height: 640 },
  { width: 390, height: 844 },
  { width: 1280, height: 800 },
  { width: 1920, height: 1080 },
];

/** Takes them all, light and dark, and says where the page is wider than its window. */
export async function pictures(page, name) {
  await mkdir(OUT, { recursive: true });
  const before = page.viewportSize();
  const tooWide = [];
  for (const size of SIZES) {
    await page.setViewportSize(size);
    for (const scheme of ["light", "dark"]) {
      await page.emulateMedia({ colorScheme: scheme });
      await settled(page);
      await page.screenshot({
        path: `${OUT}${name}-${size.width}-${scheme}.png`,
        fullPage: true,
        animations: "disabled",
      });
    }
    const width = await page.evaluate(() => document.documentElement.scrollWidth);
    if (width > size.width) tooWide.push(`${name} at ${size.width} px is ${width} px wide`);
  }
  await page.emulateMedia({ colorScheme: "light" });
  if (before) await page.setViewportSize(before);
  return tooWide;
}

/** Two frames later and with its fonts there. */
function settled(page) {
  return page.evaluate(async () => {
    await document.fonts.ready;
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  });
}
