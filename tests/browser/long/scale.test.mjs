// 500 fittings and 5,000 recordings in the browser's storage: how long the list and one fitting take to
// open, and what memory they take. A benchmark: medians of repeated visits, kept with the date.

import assert from "node:assert/strict";
import { writeFile } from "node:fs/promises";
import { test } from "node:test";

import { pageAddress } from "../lib/address.mjs";
import { launch, visitor } from "../lib/browser.mjs";
import { keptFile } from "../lib/kept-file.mjs";

const FITTINGS = 500;
const TASKS_EACH = 10;
const VISITS = 15;

const median = (all) => all.toSorted((one, other) => one - other)[Math.floor(all.length / 2)];

/** Puts so many copies of a fitting with its tasks into the storage, past the page, as rows of today. */
function fill(page, fittings, tasksEach) {
  return page.evaluate(
    async ([fittings, tasksEach]) => {
      const open = await new Promise((done) => {
        const request = indexedDB.open("stick-fitting-room");
        request.onsuccess = () => done(request.result);
      });
      const all = (table) =>
        new Promise((done) => {
          const request = open.transaction(table).objectStore(table).getAll();
          request.onsuccess = () => done(request.result);
        });
      const [[fitting], tasks] = [await all("fittings"), await all("tasks")];
      for (let number = 0; number < fittings; number += 1) {
        const transaction = open.transaction(["fittings", "tasks"], "readwrite");
        const id = `scale-${number}`;
        const json = JSON.parse(fitting.json);
        Object.assign(json, { id, made: json.made + number * 60_000 });
        Object.assign(json.body, { label: `Person ${number}`, tasks: tasksEach });
        transaction.objectStore("fittings").put({ id, fitting: id, json: JSON.stringify(json) });
        for (let place = 0; place < tasksEach; place += 1) {
          const task = JSON.parse(tasks[place % tasks.length].json);
          Object.assign(task, { id: `${id}-${place}` });
          Object.assign(task.body, { fitting: id, order: place });
          transaction.objectStore("tasks").put({ id: task.id, fitting: id, json: JSON.stringify(task) });
        }
        await new Promise((done) => (transaction.oncomplete = done));
      }
      open.close();
    },
    [fittings, tasksEach],
  );
}

/** Milliseconds until all rows of the list are there, as the page's own clock has it. */
const listTimed = (page, rows) =>
  page.evaluate(
    (rows) =>
      new Promise((done) => {
        const began = performance.now();
        location.hash = "#/kept";
        const look = () =>
          document.querySelectorAll(".kept-row").length >= rows
            ? done(performance.now() - began)
            : requestAnimationFrame(look);
        look();
      }),
    rows,
  );

/** Milliseconds until a fitting of the list is open, with its figures worked out and drawn. */
const oneTimed = (page, place) =>
  page.evaluate(
    (place) =>
      new Promise((done) => {
        const row = document.querySelectorAll(".kept-row")[place];
        const began = performance.now();
        row.querySelector("button").click();
        const look = () =>
          location.hash === "#/settings" && document.querySelector("main svg.plot")
            ? done(performance.now() - began)
            : requestAnimationFrame(look);
        look();
      }),
    place,
  );

test("the list and one fitting of many", { timeout: 1_500_000 }, async () => {
  const address = await pageAddress();
  const browser = await launch();
  const { page, close } = await visitor(browser, { address });
  await page.goto(`${address}#/kept`);
  await page.locator("#file").setInputFiles({
    name: "kept.json",
    mimeType: "application/json",
    buffer: Buffer.from(await keptFile()),
  });
  await page.getByRole("button", { name: /^Open: / }).waitFor();
  await fill(page, FITTINGS, TASKS_EACH);
  const rows = FITTINGS + 1;
  const list = [];
  const one = [];
  for (let visit = 0; visit < VISITS; visit += 1) {
    await page.reload();
    await page.evaluate(() => (location.hash = "#/ready"));
    await page.waitForTimeout(1000);
    list.push(await listTimed(page, rows));
    one.push(await oneTimed(page, (visit * 31) % FITTINGS));
  }
  const session = await page.context().newCDPSession(page);
  await page.evaluate(() => (location.hash = "#/kept"));
  await page.waitForTimeout(1000);
  await session.send("HeapProfiler.collectGarbage");
  const { usedSize } = await session.send("Runtime.getHeapUsage");
  const { usage } = await page.evaluate(() => navigator.storage.estimate());
  await close();
  await browser.close();
  const bars = [
    { name: "milliseconds to the list of 500 fittings, median", measured: median(list), side: "at_most", bar: 200 },
    { name: "milliseconds to one fitting of ten recordings, median", measured: median(one), side: "at_most", bar: 300 },
    { name: "MB of the page's scripts with the list open", measured: usedSize / 1e6, side: "at_most", bar: 200 },
    { name: "MB that 5,000 recordings take in storage", measured: usage / 1e6, side: "at_most", bar: 2_000 },
  ];
  console.log(JSON.stringify({ list, one, usage }));
  if (process.env.SCALE_RESULT) await writeFile(process.env.SCALE_RESULT, JSON.stringify(bars));
  assert.ok(list.length === VISITS && one.length === VISITS);
});
