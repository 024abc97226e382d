/**
 * The way of a save: store, then witness, then the other tabs. The answer goes to the program as soon as the
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
  }

  /**
   * @param {StoredEntry[]} entries
   * @returns {Promise<import('./store.js').Answer & {settled: Promise<void>}>} `settled`: witness written, tabs told
   */
  async save(entries) {
    const answer = await this.store.save(entries);
    return {...answer, settled: answer.outcome === 'saved' ? this.afterSaving(entries) : Promise.resolve()};
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
