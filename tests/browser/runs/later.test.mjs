// The later part of the program: fetched by itself, missed, asked for again, and not needed twice.

import assert from "node:assert/strict";
import { after, before, test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, visitor } from "../lib/browser.mjs";

const LATER = "**/later-*.wasm";
const SCREENS = [
  ["measure", /stick/i],
  ["settings", /settings/i],
  ["try", /difference/i],
  ["hand-over", /hand over/i],
  ["need-letter", /need letter/i],
  ["kept", /kept/i],
];

let browser;
let address;
before(async () => {
  address = await pageAddress();
  browser = await launch();
});
after(() => browser?.close());

const heading = (page) => page.getByRole("main").getByRole("heading", { level: 1 });
const goTo = (page, name) => page.evaluate((name) => (location.hash = `#/${name}`), name);

test("it is fetched without being asked for, once, after the first screen is drawn", async () => {
  const visit = await visitor(browser, { address });
  await visit.page.route(LATER, async (route) => {
    // Asked for while the first screen stands already.
    assert.equal(await heading(visit.page).count(), 1);
    await route.continue();
  });
  const came = visit.page.waitForResponse(LATER);
  await visit.page.goto(address);
  await (await came).finished();
  for (const [name, title] of SCREENS) {
    await goTo(visit.page, name);
    await heading(visit.page).filter({ hasText: title }).waitFor();
  }
  assert.equal(visit.requests.filter(({ url, by }) => by === "page" && /later-.*\.wasm$/.test(url)).length, 1);
  visit.assertClean();
  await visit.close();
});

test("a network that is lost once it is there does no harm", async () => {
  // The worker for use offline may be on its way at that moment: it is had another time.
  const allow = [/ERR_INTERNET_DISCONNECTED/, /fetching the script/];
  const visit = await visitor(browser, { address, allow });
  const came = visit.page.waitForResponse(LATER);
  await visit.page.goto(address);
  await (await came).finished();
  await visit.context.setOffline(true);
  for (const [name, title] of SCREENS) {
    await goTo(visit.page, name);
    await heading(visit.page).filter({ hasText: title }).waitFor();
  }
  visit.assertClean();
  await visit.close();
});

test("a lost later part is told, and fetched when asked again", async () => {
  const allow = [/later-.*\.wasm/, /Failed to fetch/, /ERR_FAILED/];
  const visit = await visitor(browser, { address, allow });
  await visit.page.route(LATER, (route) => route.abort());
  await visit.page.goto(`${address}#/kept`);
  await visit.page.getByRole("alert").filter({ hasText: "could not be fetched" }).waitFor();
  // The first screens work without it.
  await goTo(visit.page, "stick");
  await heading(visit.page).filter({ hasText: /stick/i }).waitFor();
  await goTo(visit.page, "kept");
  await visit.page.unroute(LATER);
  await visit.page.getByRole("main").getByRole("button").click();
  await heading(visit.page).filter({ hasText: /kept/i }).waitFor();
  visit.assertClean();
  await visit.close();
});
