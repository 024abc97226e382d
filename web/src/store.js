/**
 * The logbook in IndexedDB. "Saved" is said only when the browser reports the transaction complete with durability
 * "strict", that is, flushed to the medium; the default durability makes no flush at all.
 *
 * An entry's key is [device, number, hash]: putting it again changes nothing, and another entry with the same
 * number stands beside it.
 */
import {deleteDB, openDB} from 'idb';

/** @typedef {{device: string, number: number, hash: string, line: string}} StoredEntry */
/** @typedef {'saved' | 'full' | 'refused' | 'failed'} Outcome */
/** @typedef {{outcome: Outcome, detail: string}} Answer */

const kVersion = 1;
const kReadAtOnce = 5000;

/** @param {unknown} error @returns {Answer} */
export function answerOf(error) {
  const name = error instanceof Error || error instanceof DOMException ? error.name : 'Error';
  const detail = `${name}: ${/** @type {any} */ (error)?.message ?? error}`;
  if (name === 'QuotaExceededError') return {outcome: 'full', detail};
  if (name === 'SecurityError' || name === 'NotAllowedError') return {outcome: 'refused', detail};
  return {outcome: 'failed', detail};
}

export class Store {
  /** @param {string} name of the database, "tawny-own" or "tawny-demo" */
  constructor(name) {
    this.name = name;
    /** @type {Promise<import('idb').IDBPDatabase> | null} */
    this.opening = null;
  }

  /** Opens the database, or gives the one that is open. */
  database() {
    this.opening ??= openDB(this.name, kVersion, {
      upgrade(database) {
        database.createObjectStore('entries', {keyPath: ['device', 'number', 'hash']});
        database.createObjectStore('meta');
      },
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
    return this.withOneRetry(async () => (await this.database()).count('entries'));
  }

  /**
   * All lines in order of device and number, in portions of `count` lines.
   * @returns {AsyncGenerator<{lines: string, count: number}>}
   */
  async *portions() {
    /** @type {IDBKeyRange | null} */
    let after = null;
    for (;;) {
      const range = after;
      /** @type {StoredEntry[]} */
      const entries = await this.withOneRetry(async () =>
        (await this.database()).getAll('entries', range, kReadAtOnce),
      );
      if (entries.length === 0) return;
      yield {lines: entries.map((entry) => entry.line + '\n').join(''), count: entries.length};
      const last = entries[entries.length - 1];
      after = IDBKeyRange.lowerBound([last.device, last.number, last.hash], true);
    }
  }

  /** @param {string} key @returns {Promise<any>} */
  meta(key) {
    return this.withOneRetry(async () => (await this.database()).get('meta', key));
  }

  /** @param {string} key @param {unknown} value */
  setMeta(key, value) {
    return this.withOneRetry(async () => {
      const database = await this.database();
      await complete(database.transaction('meta', 'readwrite', {durability: 'strict'}), (transaction) => [
        transaction.objectStore('meta').put(value, key),
      ]);
    });
  }

  /** Empties the store for good. */
  async destroy() {
    await this.close();
    await deleteDB(this.name);
  }

  /** @param {StoredEntry[]} entries */
  async putAll(entries) {
    const database = await this.database();
    await complete(database.transaction('entries', 'readwrite', {durability: 'strict'}), (transaction) => {
      const store = transaction.objectStore('entries');
      return entries.map((entry) => store.put(entry));
    });
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
