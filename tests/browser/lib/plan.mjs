// Going through a plan, whatever is in it.

import { sentence } from "./person.mjs";

const KINDS = [
  "Hands off",
  "Quiet rest",
  "Busy rest",
  "Free movement",
  "Reach",
  "Hold",
  "Longer hold",
  "Return",
  "Presses",
];

/** Leaves everything but these kinds of task out of the plan that is shown. */
export async function keepOnly(page, kinds) {
  await page.getByText("Change the plan", { exact: true }).click();
  // What is left out makes room for something else.
  for (;;) {
    const names = await page
      .getByRole("button", { name: /^Leave out: / })
      .evaluateAll((all) => all.map((one) => one.getAttribute("aria-label")));
    const other = names.find((name) => !kinds.includes(name.replace(/^Leave out: /, "")));
    if (!other) return;
    await page.getByRole("button", { name: other, exact: true }).click();
    await page.getByRole("button", { name: other, exact: true }).waitFor({ state: "detached" });
  }
}

/**
 * Waits until the next task of the plan is there and waits for somebody to begin, and says which
 * kind it is; null when nothing is left. Where a pause is offered it is ended at once.
 */
export async function nextOfPlan(page, useStart = (button) => button.click()) {
  const begin = page.getByRole("button", { name: "Begin", exact: true });
  const start = page.getByRole("main").locator("button.main").filter({ hasText: /^Start: / });
  for (const end = Date.now() + 10_000; ; await page.waitForTimeout(50)) {
    if (await begin.isVisible()) break;
    const text = await sentence(page).textContent();
    if (text === "Everything in the plan is there") return null;
    if (text === "The plan" && (await start.isVisible())) await useStart(start);
    if (Date.now() > end) throw new Error(`neither a task nor the end of the plan: ${text}`);
  }
  const step = (await page.locator(".step").first().textContent()).trim();
  // The longest name that fits: "Hold" begins nothing else, and nothing else is guessed.
  const kind = KINDS.filter((name) => step.startsWith(name)).sort((a, b) => b.length - a.length)[0];
  if (!kind) throw new Error(`no kind of task in: ${step}`);
  return kind;
}

/** Leaves the task that waits after a finished one, unless a pause or the end of the plan came. */
export async function leaveWaiting(page) {
  const leave = page.getByRole("button", { name: "Leave this task" });
  const plan = page.getByRole("button", { name: "Choose another plan" });
  await leave.or(plan).first().waitFor();
  if (await leave.isVisible()) await leave.click();
}
