/**
 * Complete thousands of a device become one record each, so that a start reads a hundred records instead of a hundred
 * thousand. One transaction writes the record and takes the entries out of the tail: either both happened, or neither.
 * It is done when there is nothing else to do; when it fails, for want of room say, all entries stay where they are.
 */
import {canDigest, isEntry, isThousand, rangeOf, sha256, thousandOf} from './store-shape.js';

/** @typedef {import('./store.js').Store} Store */
/** @typedef {import('./store-shape.js').StoredEntry} StoredEntry */

const kQuietMs = 2000;
const kKeysAtOnce = 5000;

/**
 * @param {Store} store @param {string} device @param {number} thousand
 * @returns {Promise<boolean>} whether anything changed
 */
export async function compact(store, device, thousand) {
  if (!canDigest()) return false;
  const range = rangeOf(device, thousand, store.unit);
  if (await store.holdsThousand(device, thousand)) return dropDoubles(store, device, thousand, range);
  const keys = await store.keysOf(range);
  if (new Set(keys.map(([, number]) => number)).size < store.unit) return false;
  const entries = await store.entriesOf(range);
  if (!entries.every(isEntry)) return false;
  const lines = entries.map(({line}) => line + '\n').join('');
  const record = {device, thousand, lines, count: entries.length, sha256: await sha256(lines)};
  await store.change(['entries', 'thousands'], (transaction) => [
    transaction.objectStore('thousands').add(record),
    ...entries.map(({number, hash}) => transaction.objectStore('entries').delete([device, number, hash])),
  ]);
  return true;
}

/**
 * Entries that came once more after their thousand was compacted. Another one of the same number stays in the tail.
 * @param {Store} store @param {string} device @param {number} thousand @param {IDBKeyRange} range
 */
async function dropDoubles(store, device, thousand, range) {
  const entries = await store.entriesOf(range);
  if (entries.length === 0) return false;
  const record = await store.thousand(device, thousand);
  if (!(await isThousand(record))) return false;
  const known = new Set(record.lines.split('\n'));
  const doubles = entries.filter(({line}) => known.has(line));
  if (doubles.length === 0) return false;
  await store.change(['entries'], (transaction) =>
    doubles.map(({number, hash}) => transaction.objectStore('entries').delete([device, number, hash])),
  );
  return true;
}

/**
 * The thousands of the tail that are worth a look: complete ones, and those that were compacted before.
 * @param {Store} store @returns {Promise<[string, number][]>}
 */
export async function ripeThousands(store) {
  /** @type {Map<string, {device: string, thousand: number, numbers: number, last: number}>} */
  const tally = new Map();
  /** @type {IDBKeyRange | undefined} */
  let after;
  for (;;) {
    const keys = await store.keysOf(after, kKeysAtOnce);
    for (const [device, number] of keys) {
      const thousand = thousandOf(number, store.unit);
      const name = `${thousand} ${device}`;
      const seen = tally.get(name) ?? {device, thousand, numbers: 0, last: 0};
      if (number !== seen.last) seen.numbers += 1;
      seen.last = number;
      tally.set(name, seen);
    }
    if (keys.length < kKeysAtOnce) break;
    after = IDBKeyRange.lowerBound(keys[keys.length - 1], true);
  }
  /** @type {[string, number][]} */
  const ripe = [];
  for (const {device, thousand, numbers} of tally.values()) {
    if (numbers >= store.unit || (await store.holdsThousand(device, thousand))) ripe.push([device, thousand]);
  }
  return ripe;
}

/** When this page has nothing better to do. */
function idle() {
  return new Promise((resolve) => {
    setTimeout(() => {
      if ('requestIdleCallback' in globalThis) {
        requestIdleCallback(() => resolve(undefined), {timeout: kQuietMs});
      } else {
        resolve(undefined);
      }
    }, kQuietMs);
  });
}

/** Compacts in the page that holds the pen, one thousand at a time, never while a save is under way. */
export class Compactor {
  /** @param {Store} store @param {{quiet?: () => Promise<unknown>}} [options] */
  constructor(store, {quiet = idle} = {}) {
    this.store = store;
    this.quiet = quiet;
    /** @type {Promise<void>} */
    this.work = Promise.resolve();
    this.isOn = false;
    /** The one under way. @type {Promise<boolean> | undefined} */
    this.current = undefined;
    /** Waits until no save is under way. @type {() => Promise<unknown>} */
    this.saves = () => Promise.resolve();
  }

  /** This page holds the pen. */
  start() {
    this.isOn = true;
    this.queue(() => ripeThousands(this.store));
  }

  /** It gives the pen away. */
  stop() {
    this.isOn = false;
  }

  /** These were saved. @param {StoredEntry[]} entries */
  saved(entries) {
    const {unit} = this.store;
    // In order of time an entry comes last in its thousand; a logbook brought in comes in any order.
    const ends = entries.length === 1 ? entries.filter(({number}) => number % unit === 0) : entries;
    const touched = new Map(ends.map(({device, number}) => [`${thousandOf(number, unit)} ${device}`, {device, number}]));
    if (touched.size === 0) return;
    this.queue(async () => [...touched.values()].map(({device, number}) => [device, thousandOf(number, unit)]));
  }

  /** @param {() => Promise<[string, number][]>} find */
  queue(find) {
    this.work = this.work.then(async () => {
      try {
        await this.quiet();
        if (!this.isOn) return;
        for (const [device, thousand] of await find()) {
          await this.saves();
          if (!this.isOn) return;
          this.current = compact(this.store, device, thousand);
          if (await this.current) await this.quiet();
        }
      } catch {
        // Nothing was changed; the next start tries again.
      }
    });
  }
}
