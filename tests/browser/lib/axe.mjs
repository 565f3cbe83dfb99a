// axe-core on a page as it stands, in light and in dark.

import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";

const source = readFile(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"];

/** What axe-core finds, as lines to read: rule, how grave, where, why. */
export async function findings(page) {
  const there = await page.evaluate(() => typeof window.axe === "object");
  // Evaluated by the driver, not by the page, whose policy would rightly refuse it.
  if (!there) await page.evaluate(await source);
  // From the top: what lies under the header that stays can always be scrolled clear of it.
  const [left, top] = await page.evaluate(() => {
    const at = [scrollX, scrollY];
    window.scrollTo(0, 0);
    return at;
  });
  const { violations, passes } = await page.evaluate(
    (tags) => window.axe.run(document, { runOnly: { type: "tag", values: tags }, resultTypes: ["violations"] }),
    TAGS,
  );
  await page.evaluate(([left, top]) => window.scrollTo(left, top), [left, top]);
  if (passes.length === 0) throw new Error("axe-core checked nothing");
  return violations.flatMap((rule) =>
    rule.nodes.map((node) => `${rule.id} (${rule.impact}): ${node.target.join(" ")} — ${node.failureSummary}`),
  );
}

/** Throws if axe-core finds anything in light or in dark. */
export async function assertAccessible(page, name) {
  for (const scheme of ["light", "dark"]) {
    await page.emulateMedia({ colorScheme: scheme });
    const found = await findings(page);
    if (found.length > 0) {
      throw new Error(`axe-core found on ${name} (${scheme}):\n  ${found.join("\n  ")}`);
    }
  }
  await page.emulateMedia({ colorScheme: "light" });
}
