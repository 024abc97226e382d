/**
 * Chromium keeps IndexedDB in LevelDB, and goes on in the log of the run before. Where a kill cut off the last record
 * of that log, what is written next stands behind a torn record; at the start after that the log counts as damaged, and
 * the browser throws the whole database away, entries that were flushed long ago with it. Deleting a database, any
 * database of this origin, makes it write everything into tables and begin a new log: so that is done before anything
 * else is written. Two kills are needed to see it, and it is rare: tests/browser/kill.test.mjs met it once in a hundred
 * kills, and does not meet it since.
 *
 * The browser says that a database is deleted before it has begun the new log, by 3 to 140 ms where it was measured,
 * and gives no word of that. So what a person saves waits a little longer. What is left is a kill in these first
 * moments, while nothing is being saved.
 *
 * Elsewhere this is a small database that comes and goes.
 */
import {databaseNames} from './databases.js';

const kName = 'tawny-new-log';
const kPatienceMs = 2000;
const kUntilBegunMs = 500;

const sleep = (/** @type {number} */ ms) => new Promise((resolve) => setTimeout(resolve, ms));

/**
 * Both settle always: `asked` soon, when the store may be read; `begun` when it may be written. Where there is no
 * database yet there is no log to lose, and neither waits.
 * @param {Promise<string[] | undefined>} names of this origin's databases, as they were when the page began or later
 * @returns {{asked: Promise<void>, begun: Promise<void>}}
 */
export function beginNewLog(names = databaseNames()) {
  const isThere = Promise.race([hasAny(names), sleep(kPatienceMs).then(() => true)]);
  const asked = isThere.then((there) => (there ? Promise.race([comeAndGo(), sleep(kPatienceMs)]) : undefined));
  return {
    asked,
    begun: asked.then(async () => {
      if (await isThere) await sleep(kUntilBegunMs);
    }),
  };
}

/** A browser that cannot say may have some. @param {Promise<string[] | undefined>} names */
async function hasAny(names) {
  const there = await names;
  return there === undefined || there.length > 0;
}

/** @returns {Promise<void>} */
function comeAndGo() {
  return new Promise((resolve) => {
    const done = () => resolve();
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
