// Going through the tasks of a plan while an invented person plays them by itself.

import { sentence } from "./person.mjs";

/** Presses Begin, lets the person play to the end, and goes on to what comes next. */
export async function watchTask(page, timeout = 240_000) {
  await page.getByRole("button", { name: "Begin", exact: true }).click();
  await sentence(page).filter({ hasText: /^That is enough/ }).waitFor({ timeout });
  await page.getByRole("button", { name: /^Next: |^Done$/ }).click();
}

/** Chooses an invented person and a plan, and starts the first task without beginning it. */
export async function startPlan(page, address, person, minutes) {
  await page.goto(`${address}#/stick`);
  await page.getByRole("button", { name: new RegExp(`^${person}`) }).click();
  await page.getByRole("button", { name: "Go on to measuring" }).click();
  await page.getByRole("button", { name: new RegExp(`^${minutes} minutes`) }).click();
  await page.getByRole("button", { name: "Start: Hands off" }).click();
}
