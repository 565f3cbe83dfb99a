// Cards that open, and the answers in them, as a person finds them.

/** Goes to a screen by its address. */
export async function goTo(page, screen) {
  // The heading of the screen before stands there until the page has heard of the new address.
  const before = await page.evaluateHandle((screen) => {
    // Without a hash it is the first screen.
    const there = (location.hash || "#/ready") === `#/${screen}`;
    location.hash = `#/${screen}`;
    const heading = document.querySelector("main h1");
    return there ? null : { heading, text: heading?.textContent };
  }, screen);
  // One screen may take over the heading of another, with words of its own.
  const isOther = (before) => !before?.heading?.isConnected || before.heading.textContent !== before.text;
  await page.waitForFunction(isOther, before);
  await page.getByRole("main").getByRole("heading", { level: 1 }).waitFor();
}

/** Opens a card by its name, if it is not open, and gives it. */
export async function openCard(page, title) {
  const card = page.locator("details.answers").filter({ has: page.locator(`summary strong`, { hasText: title }) });
  await card.waitFor();
  if (!(await card.evaluate((details) => details.open))) await card.locator("summary").first().click();
  return card;
}

/** Answers a question that has a few answers. */
export function say(place, question, answer) {
  const group = place.getByRole("group", { name: question, exact: true });
  return group.getByRole("radio", { name: answer, exact: true }).check();
}

/** Controls that are shown and smaller than 44 px, as lines to read. */
export function smallTargets(page, name) {
  return page.evaluate((name) => {
    const small = [];
    const controls = "button, select, summary, a[href], input:not([type=hidden]), textarea, [tabindex='0']";
    for (const control of document.querySelectorAll(controls)) {
      if (!control.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
      // A box and the words beside it are one target: the whole label can be pressed.
      const target = control.closest("label") ?? control;
      const { width, height, bottom } = target.getBoundingClientRect();
      // The skip link waits above the window until it has the focus.
      if (bottom <= 0 || width === 0) continue;
      // A link in a sentence is as high as its line (WCAG 2.2, 2.5.8: inline).
      if (control.tagName === "A" && getComputedStyle(control).display === "inline") continue;
      if (width < 43.9 || height < 43.9) {
        const text = control.getAttribute("aria-label") ?? control.textContent.trim().slice(0, 40);
        small.push(`${name}: ${control.tagName} “${text}” is ${width.toFixed(1)} by ${height.toFixed(1)}`);
      }
    }
    return small;
  }, name);
}
