// What really lies in the browser's storage, read past the page.

/** The rows of every table, by its name. */
export function everythingKept(page) {
  return page.evaluate(
    () =>
      new Promise((done, failed) => {
        const request = indexedDB.open("stick-fitting-room");
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          const database = request.result;
          const names = [...database.objectStoreNames];
          const transaction = database.transaction(names);
          const tables = {};
          for (const name of names) {
            const all = transaction.objectStore(name).getAll();
            all.onsuccess = () => (tables[name] = all.result);
          }
          transaction.oncomplete = () => {
            database.close();
            done(tables);
          };
          transaction.onabort = () => failed(transaction.error);
        };
      }),
  );
}

/** All text that lies in any storage of the page. */
export async function everyText(page) {
  const tables = JSON.stringify(await everythingKept(page));
  const others = await page.evaluate(() => JSON.stringify([{ ...localStorage }, { ...sessionStorage }]));
  return tables + others;
}
