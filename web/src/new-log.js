/**
 * Chromium keeps IndexedDB in LevelDB, and goes on in the log of the run before. Where a kill cut off the last record
 * of that log, what is written next stands behind a torn record; at the start after that the log counts as damaged, and
 * the browser throws the whole database away, entries that were flushed long ago with it. Deleting a database, any
 * database of this origin, makes it write everything into tables and begin a new log: so that is done before anything
 * else is written. Two kills are needed to see it, and it is rare: tests/browser/kill.test.mjs met it once in a hundred
 * kills, and does not meet it since.
 *
 * Elsewhere this is a small database that comes and goes.
 */
const kName = 'tawny-new-log';
const kPatienceMs = 2000;

/** Settles always, soon. */
export function beginNewLog() {
  return new Promise((resolve) => {
    const done = () => resolve(undefined);
    setTimeout(done, kPatienceMs);
    try {
      const opening = indexedDB.open(kName);
      opening.onerror = done;
      opening.onsuccess = () => {
        opening.result.close();
        const deleting = indexedDB.deleteDatabase(kName);
        deleting.onsuccess = deleting.onerror = deleting.onblocked = done;
      };
    } catch {
      // A browser that refuses says so when the store is opened.
      done();
    }
  });
}
