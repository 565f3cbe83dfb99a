// Text that would do harm if it were more than read.

import assert from "node:assert/strict";

/** Markup, scripts, marks that turn the writing direction, and far too long. */
export const HOSTILE = `<img src=x onerror="window.hurt=1"><script>window.hurt=2</script>\u202e\u2067\u0000\u001b[31m"'>&lt;${"A".repeat(10_000)}`;

/** Throws if anything of a hostile name did more than be read as text. */
export async function assertHarmless(page, where, longest = 300) {
  const seen = await page.evaluate(() => ({
    hurt: window.hurt,
    images: document.querySelectorAll("img, script:not([src])").length,
    wide: document.documentElement.scrollWidth > innerWidth,
    text: document.body.innerText,
  }));
  assert.equal(seen.hurt, undefined, `${where}: it ran`);
  assert.equal(seen.images, 0, `${where}: it became markup`);
  assert.ok(!seen.wide, `${where}: it widens the page`);
  assert.doesNotMatch(seen.text, /[\u202a-\u202e\u2066-\u2069\u0000\u001b]/, `${where}: control characters are shown`);
  assert.doesNotMatch(seen.text, new RegExp(`A{${longest}}`), `${where}: it is cut`);
}
