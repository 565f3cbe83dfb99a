// A storage that fails on purpose, and what the page says of it.

/** Runs before the page: counts every call of the database, and spoils the one it is told to. */
export function spoiler() {
  window.storageCalls = { count: 0, spoilAt: 0, how: "", spoilt: "" };
  const state = window.storageCalls;
  const wrap = (of, name) => {
    const real = of.prototype[name];
    of.prototype[name] = function (...given) {
      state.count += 1;
      const spoils = state.count === state.spoilAt || (state.full && ["put", "add"].includes(name));
      if (spoils) state.spoilt = `${of.name}.${name}`;
      if (spoils && state.how !== "abort") throw new DOMException("spoilt", state.how);
      const answer = real.apply(this, given);
      // As when the disk is full only at the end: everything was taken, and nothing is kept.
      if (spoils) (answer.abort ? answer : (this.transaction ?? this.objectStore.transaction)).abort();
      return answer;
    };
  };
  wrap(IDBDatabase, "transaction");
  for (const name of ["put", "add", "delete", "clear", "get", "getAll"]) wrap(IDBObjectStore, name);
  for (const name of ["getAll", "getAllKeys"]) wrap(IDBIndex, name);
}

/** Closes the window of troubles, if there is one; whether something was said in any way. */
export async function heard(page) {
  const dialog = page.getByRole("dialog", { name: "Something needs your attention" });
  let said = false;
  while (await dialog.isVisible()) {
    said = true;
    await dialog.getByRole("button", { name: "Close" }).click();
    await page.waitForTimeout(20);
  }
  return said || (await page.getByText("The newest part is not kept").isVisible());
}

/** Waits until the page has nothing to do with its storage any more. */
export async function quiet(page) {
  for (let before = -1; ; ) {
    const now = await page.evaluate(() => window.storageCalls.count);
    if (now === before) return;
    before = now;
    await page.waitForTimeout(60);
  }
}
