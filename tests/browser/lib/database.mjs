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

/** Puts rows, and takes rows out by their ids, past the page. */
export function changeKept(page, { put = {}, out = {} }) {
  return page.evaluate(
    ([put, out]) =>
      new Promise((done, failed) => {
        const request = indexedDB.open("stick-fitting-room");
        request.onerror = () => failed(request.error);
        request.onsuccess = () => {
          const database = request.result;
          const transaction = database.transaction([...database.objectStoreNames], "readwrite");
          for (const [table, rows] of Object.entries(put)) {
            for (const row of rows) transaction.objectStore(table).put(row);
          }
          for (const [table, ids] of Object.entries(out)) {
            for (const id of ids) transaction.objectStore(table).delete(id);
          }
          transaction.oncomplete = () => done(database.close());
          transaction.onabort = () => failed(transaction.error);
        };
      }),
    [put, out],
  );
}

/** A second window that holds the whole database, so that nobody else reads or writes; `free` lets go. */
export async function holdDatabase(page, address) {
  const other = await page.context().newPage();
  await other.goto(`${address}manifest.webmanifest`);
  await other.evaluate(
    () =>
      new Promise((held) => {
        const request = indexedDB.open("stick-fitting-room");
        request.onsuccess = () => {
          const database = request.result;
          const store = database.transaction([...database.objectStoreNames], "readwrite").objectStore("fittings");
          // A transaction lives as long as somebody asks something of it.
          const again = () => {
            if (!window.freed) store.get("").onsuccess = again;
            held();
          };
          store.transaction.oncomplete = () => database.close();
          again();
        };
      }),
  );
  const free = async () => {
    await other.evaluate(() => (window.freed = true));
    await other.close();
  };
  return { free };
}
