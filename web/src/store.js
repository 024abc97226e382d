/**
 * The logbook in IndexedDB. "Saved" is said only when the browser reports the transaction complete with durability
 * "strict", that is, flushed to the medium; the default durability makes no flush at all.
 *
 * An entry's key is [device, number, hash]: putting it again changes nothing, and another entry with the same
 * number stands beside it. Complete thousands stand in one record each: compaction.js. The records: store-shape.js.
 */
import {deleteDB, openDB} from 'idb';
import {findingOf} from './damage.js';
import {canDigest, isEntry, kThousand, kVersion, linesOfThousand, upgrade} from './store-shape.js';

/** @typedef {import('./store-shape.js').StoredEntry} StoredEntry */
/** @typedef {'saved' | 'full' | 'refused' | 'newer' | 'failed'} Outcome */
/** @typedef {{outcome: Outcome, detail: string}} Answer */
/** @typedef {{lines: string | Uint8Array, count: number, kept: boolean}} Portion */

const kReadAtOnce = 5000;
const kThousandsAtOnce = 5;

/** @param {unknown} error @returns {Answer} */
export function answerOf(error) {
  const name = error instanceof Error || error instanceof DOMException ? error.name : 'Error';
  const detail = `${name}: ${/** @type {any} */ (error)?.message ?? error}`;
  if (name === 'QuotaExceededError') return {outcome: 'full', detail};
  if (name === 'SecurityError' || name === 'NotAllowedError') return {outcome: 'refused', detail};
  // A newer version of the app has upgraded the database: this one may not touch it.
  if (name === 'VersionError') return {outcome: 'newer', detail};
  return {outcome: 'failed', detail};
}

/**
 * Asks for the next before the last one is worked off, and for the first at once.
 * @template T @param {AsyncGenerator<T>} source @returns {AsyncGenerator<T>}
 */
function readAhead(source) {
  const ask = () => {
    const asked = source.next();
    // Whoever waits for it hears of it.
    asked.catch(() => {});
    return asked;
  };
  let asked = ask();
  return (async function* () {
    for (;;) {
      const {value, done} = await asked;
      if (done) return;
      asked = ask();
      yield value;
    }
  })();
}

export class Store {
  /**
   * @param {string} name of the database, "tawny-own" or "tawny-demo"
   * @param {{unit?: number}} [options] how many entries are compacted together
   */
  constructor(name, {unit = kThousand} = {}) {
    this.name = name;
    this.unit = unit;
    /** Records that were not whole in the last reading. @type {import('./damage.js').Finding[]} */
    this.findings = [];
    /** Nothing is written before it settles: new-log.js. @type {Promise<void>} */
    this.mayWrite = Promise.resolve();
    /** @type {Promise<import('idb').IDBPDatabase> | null} */
    this.opening = null;
  }

  /** Opens the database, or gives the one that is open. */
  database() {
    this.opening ??= openDB(this.name, kVersion, {
      upgrade,
      // A newer version of the app wants to upgrade: this page lets go, and its next save will say so.
      blocking: () => void this.close(),
      terminated: () => {
        this.opening = null;
      },
    });
    // A failure is not kept: the next call tries afresh.
    this.opening.catch(() => {
      this.opening = null;
    });
    return this.opening;
  }

  async close() {
    const opening = this.opening;
    this.opening = null;
    try {
      (await opening)?.close();
    } catch {
      // It was never open.
    }
  }

  /**
   * Makes all entries durable together, or none.
   * @param {StoredEntry[]} entries @returns {Promise<Answer>}
   */
  async save(entries) {
    try {
      await this.withOneRetry(() => this.putAll(entries));
      return {outcome: 'saved', detail: ''};
    } catch (error) {
      return answerOf(error);
    }
  }

  /** How many entries there are. @returns {Promise<number>} */
  count() {
    return this.withOneRetry(async () => {
      const database = await this.database();
      let count = await database.count('entries');
      let cursor = await database.transaction('thousands').store.index('count').openKeyCursor();
      for (; cursor; cursor = await cursor.continue()) count += Number(cursor.key);
      return count;
    });
  }

  /**
   * All lines, in portions of `count` lines: the thousands, then the tail. What is not whole goes into `findings`. Lines
   * are text, or its UTF-8 where that had to be made.
   * `kept`: their hash as a thousand was found right, so no byte has changed since they were compacted.
   * Reading begins at once, and the next portion is read while the one before is worked off.
   * @returns {AsyncGenerator<Portion>}
   */
  portions() {
    this.findings = [];
    return readAhead(this.read());
  }

  /** @returns {AsyncGenerator<Portion>} */
  async *read() {
    const read = new Set();
    yield* this.thousands(read);
    /** @type {IDBKeyRange | undefined} */
    let after;
    for (;;) {
      const {records, last} = await this.readSome('entries', kReadAtOnce, after);
      if (last === undefined) break;
      const whole = [];
      for (const {key, record, detail} of records) {
        if (isEntry(record)) {
          whole.push(record.line + '\n');
        } else {
          this.findings.push(await findingOf('entries', key, record, this.unit, detail));
        }
      }
      if (whole.length > 0) yield {lines: whole.join(''), count: whole.length, kept: false};
      after = IDBKeyRange.lowerBound(last, true);
    }
    // Another tab may have compacted what this one had not read yet.
    yield* this.thousands(read);
  }

  /** @param {Set<string>} read those to pass over; grows @returns {AsyncGenerator<Portion>} */
  async *thousands(read) {
    /** @type {IDBKeyRange | undefined} */
    let after;
    for (;;) {
      const range = after;
      const keys = await this.withOneRetry(async () =>
        (await this.database()).getAllKeys('thousands', range, kThousandsAtOnce),
      );
      if (keys.length === 0) return;
      after = IDBKeyRange.lowerBound(keys[keys.length - 1], true);
      if (keys.every((key) => read.has(String(key)))) continue;
      const {records} = await this.readSome('thousands', kThousandsAtOnce, range);
      const whole = await Promise.all(records.map(({record}) => linesOfThousand(record)));
      for (const [i, {key, record, detail}] of records.entries()) {
        if (read.has(String(key))) continue;
        read.add(String(key));
        const lines = whole[i];
        if (lines) {
          yield {lines, count: record.count, kept: canDigest()};
          continue;
        }
        const finding = await findingOf('thousands', key, record, this.unit, detail);
        this.findings.push(finding);
        const readable = finding.readable.map(({line}) => line + '\n').join('');
        if (readable !== '') yield {lines: readable, count: finding.readable.length, kept: false};
      }
    }
  }

  /**
   * The next records; one that the browser cannot read has none and says why.
   * @param {'entries' | 'thousands'} from @param {number} most @param {IDBKeyRange | undefined} range
   * @returns {Promise<{records: {key: any, record: any, detail: string}[], last: any}>}
   */
  async readSome(from, most, range) {
    try {
      const all = await this.withOneRetry(async () => (await this.database()).getAll(from, range, most));
      const keyOf = (/** @type {any} */ record) =>
        from === 'entries' ? [record.device, record.number, record.hash] : [record.device, record.thousand];
      const records = all.map((record) => ({key: keyOf(record), record, detail: ''}));
      return {records, last: records.at(-1)?.key};
    } catch {
      const keys = await this.withOneRetry(async () => (await this.database()).getAllKeys(from, range, most));
      const records = [];
      for (const key of keys) {
        try {
          records.push({key, record: await this.withOneRetry(async () => (await this.database()).get(from, key)), detail: ''});
        } catch (error) {
          records.push({key, record: undefined, detail: answerOf(error).detail});
        }
      }
      return {records, last: keys.at(-1)};
    }
  }

  /** @param {string} device @param {number} thousand @returns {Promise<any>} */
  thousand(device, thousand) {
    return this.withOneRetry(async () => (await this.database()).get('thousands', [device, thousand]));
  }

  /** @param {string} device @param {number} thousand @returns {Promise<boolean>} */
  holdsThousand(device, thousand) {
    return this.withOneRetry(async () => (await (await this.database()).count('thousands', [device, thousand])) > 0);
  }

  /** Of the tail. @param {IDBKeyRange} [range] @param {number} [most] @returns {Promise<[string, number, string][]>} */
  keysOf(range, most) {
    return this.withOneRetry(async () => /** @type {any} */ (await this.database()).getAllKeys('entries', range, most));
  }

  /** Of the tail. @param {IDBKeyRange} range @returns {Promise<StoredEntry[]>} */
  entriesOf(range) {
    return this.withOneRetry(async () => (await this.database()).getAll('entries', range));
  }

  /** @returns {Promise<import('./store-shape.js').Damaged[]>} */
  allDamaged() {
    return this.withOneRetry(async () => (await this.database()).getAll('damaged'));
  }

  /** @param {string} key @returns {Promise<any>} */
  meta(key) {
    return this.withOneRetry(async () => (await this.database()).get('meta', key));
  }

  /** @param {string} key @param {unknown} value */
  setMeta(key, value) {
    return this.setMetas([[key, value]]);
  }

  /** All of them or none. @param {[string, unknown][]} rows */
  setMetas(rows) {
    return this.withOneRetry(() =>
      this.change(['meta'], (transaction) => rows.map(([key, value]) => transaction.objectStore('meta').put(value, key))),
    );
  }

  /** Empties the store for good. */
  async destroy() {
    await this.close();
    await deleteDB(this.name);
  }

  /** @param {StoredEntry[]} entries */
  putAll(entries) {
    return this.change(['entries'], (transaction) => {
      const store = transaction.objectStore('entries');
      return entries.map((entry) => store.put(entry));
    });
  }

  /**
   * All of it durable, or none.
   * @param {string[]} stores @param {(transaction: any) => Promise<unknown>[]} act
   */
  async change(stores, act) {
    await this.mayWrite;
    const database = await this.database();
    await complete(database.transaction([...new Set(stores)], 'readwrite', {durability: 'strict'}), act);
  }

  /**
   * A browser may lose its connection to the database while the app is in the background. What is done here is
   * idempotent, so it is done once more on a new connection; a full store stays full.
   * @template T @param {() => Promise<T>} act @returns {Promise<T>}
   */
  async withOneRetry(act) {
    try {
      return await act();
    } catch (error) {
      if (answerOf(error).outcome !== 'failed') throw error;
      await this.close();
      return await act();
    }
  }
}

/**
 * Settles when the transaction does. A quota error comes through "abort" only, without an error of any request.
 * @param {any} transaction @param {(transaction: any) => Promise<unknown>[]} act
 */
function complete(transaction, act) {
  return new Promise((resolve, reject) => {
    transaction.addEventListener('complete', () => resolve(undefined));
    transaction.addEventListener('abort', () => reject(transaction.error ?? new DOMException('', 'AbortError')));
    transaction.done.catch(() => {});
    for (const request of act(transaction)) request.catch(() => {});
    transaction.commit?.();
  });
}
