/**
 * Records of the store that are not whole: what can still be read in them is kept as entries, the record itself is
 * set aside for good, and it is known which entries are missing until they are brought in again.
 */
import {canDigest, rangeOf, sha256, thousandOf} from './store-shape.js';

/** @typedef {import('./store-shape.js').Damaged} Damaged */
/** @typedef {import('./store-shape.js').StoredEntry} StoredEntry */
/** @typedef {{damaged: Damaged, readable: StoredEntry[]}} Finding */

/**
 * The lines whose own hash is right: FORMAT.md keeps the way it is taken for all versions of a line.
 * @param {any} text @returns {Promise<StoredEntry[]>}
 */
export async function readableEntries(text) {
  if (typeof text !== 'string') return [];
  /** @type {StoredEntry[]} */
  const readable = [];
  for (const line of text.split('\n')) {
    try {
      const {device, number, hash} = JSON.parse(line);
      const body = line.slice(0, line.lastIndexOf(',"hash":'));
      const known = typeof device === 'string' && Number.isInteger(number) && typeof hash === 'string';
      if (known && (!canDigest() || (await sha256(body)) === hash)) readable.push({device, number, hash, line});
    } catch {
      // Not a line any more.
    }
  }
  return readable;
}

/**
 * @param {'entries' | 'thousands'} from @param {any} key @param {any} record undefined: the browser cannot read it
 * @param {number} unit @param {string} [detail] @returns {Promise<Finding>}
 */
export async function findingOf(from, key, record, unit, detail = '') {
  const device = String(key[0]);
  const readable = from === 'thousands' ? await readableEntries(record?.lines) : [];
  const there = new Set(readable.filter((entry) => entry.device === device).map((entry) => entry.number));
  const first = from === 'thousands' ? key[1] * unit + 1 : key[1];
  const all = from === 'thousands' ? Array.from({length: unit}, (_, i) => first + i) : [first];
  const held = Number.isInteger(record?.count) && record.count > 0 ? record.count : all.length;
  const missing = all.filter((number) => !there.has(number));
  const found = new Date().toISOString();
  return {damaged: {from, key, found, held, device, missing, record, detail}, readable};
}

/**
 * Moves what was found out of the way, each record in one transaction with what is readable in it.
 * @param {import('./store.js').Store} store @param {Finding[]} findings
 */
export async function setAside(store, findings) {
  const known = (await store.allDamaged()).filter(({record}) => record === undefined).map(({key}) => key.join());
  for (const {damaged, readable} of findings) {
    if (damaged.record === undefined && known.includes(damaged.key.join())) continue;
    await store.change([damaged.from, 'entries', 'damaged'], (transaction) => [
      transaction.objectStore('damaged').add(damaged),
      ...(damaged.record === undefined ? [] : [transaction.objectStore(damaged.from).delete(damaged.key)]),
      ...readable.map((entry) => transaction.objectStore('entries').put(entry)),
    ]);
  }
}

/**
 * Which of the missing entries have not come back since.
 * @param {import('./store.js').Store} store @param {Damaged} damaged @returns {Promise<number>}
 */
async function stillMissing(store, {from, key, device, missing, record}) {
  if (missing.length === 0) return 0;
  const thousand = from === 'thousands' ? key[1] : thousandOf(key[1], store.unit);
  if (!Number.isInteger(thousand)) return missing.length;
  const isUnreadable = from === 'thousands' && record === undefined;
  if (!isUnreadable && (await store.holdsThousand(device, thousand))) return 0;
  const keys = await store.keysOf(rangeOf(device, thousand, store.unit));
  const there = new Set(keys.map(([, number]) => number));
  return missing.filter((number) => !there.has(number)).length;
}

/**
 * What is to be said of damage: the records of which something is still missing, and those found just now.
 * @param {import('./store.js').Store} store @param {Finding[]} findings of this start, set aside or not
 * @returns {Promise<{records: number, held: number, missing: number}>}
 */
export async function damageReport(store, findings) {
  /** @type {Map<string, {damaged: Damaged, isNew: boolean}>} */
  const all = new Map();
  const name = (/** @type {Damaged} */ {from, key, found, record}) =>
    `${from}/${key.join('/')}/${record === undefined ? '' : found}`;
  for (const damaged of await store.allDamaged()) all.set(name(damaged), {damaged, isNew: false});
  for (const {damaged} of findings) all.set(name(damaged), {damaged, isNew: true});
  const report = {records: 0, held: 0, missing: 0};
  for (const {damaged, isNew} of all.values()) {
    const missing = await stillMissing(store, damaged);
    if (missing === 0 && !isNew) continue;
    report.records += 1;
    report.held += damaged.held;
    report.missing += missing;
  }
  return report;
}
