/**
 * The way of a save: store, then the other tabs, then witness. The answer goes to the program as soon as the
 * store has given it.
 */
import {tellGrown} from './pen.js';
import {writeWitness} from './witness.js';

/** @typedef {import('./store.js').StoredEntry} StoredEntry */

/**
 * @param {string} text one entry a line, "device TAB number TAB hash TAB line", as BrowserPlatform::save writes it
 * @returns {StoredEntry[]}
 */
export function parseEntries(text) {
  return text
    .split('\n')
    .filter((row) => row !== '')
    .map((row) => {
      const [device, number, hash] = row.split('\t', 3);
      const line = row.slice(device.length + number.length + hash.length + 3);
      return {device, number: Number(number), hash, line};
    });
}

export class Saver {
  /**
   * @param {{store: import('./store.js').Store, storeName: string, device: string,
   *          witness: import('./witness.js').Witness | null}} parts
   */
  constructor({store, storeName, device, witness}) {
    this.store = store;
    this.storeName = storeName;
    this.device = device;
    this.witness = witness;
    /** Another tab holds the pen: nothing is saved here. */
    this.isClosed = false;
    /** Saves whose witness is not written yet. @type {Set<Promise<unknown>>} */
    this.underWay = new Set();
  }

  /**
   * @param {StoredEntry[]} entries
   * @returns {Promise<import('./store.js').Answer & {settled: Promise<void>}>} `settled`: witness written, tabs told
   */
  async save(entries) {
    if (this.isClosed) return {outcome: 'failed', detail: 'another tab does the writing', settled: Promise.resolve()};
    const saving = this.store.save(entries);
    const settled = saving.then(({outcome}) => (outcome === 'saved' ? this.afterSaving(entries) : undefined));
    this.underWay.add(settled);
    const answer = await saving;
    return {...answer, settled: settled.finally(() => this.underWay.delete(settled))};
  }

  get isIdle() {
    return this.underWay.size === 0;
  }

  /** Settles when nothing is being saved. */
  async idle() {
    while (!this.isIdle) await Promise.allSettled(this.underWay);
  }

  /** @param {StoredEntry[]} entries */
  async afterSaving(entries) {
    tellGrown(this.storeName);
    const seen = this.witness?.device === this.device ? this.witness.number : 0;
    const last = entries
      .filter((entry) => entry.device === this.device && entry.number > seen)
      .reduce((a, b) => (a && a.number > b.number ? a : b), /** @type {StoredEntry | undefined} */ (undefined));
    if (!last) return;
    this.witness = {device: last.device, number: last.number, hash: last.hash};
    await writeWitness(this.storeName, this.witness);
  }
}
