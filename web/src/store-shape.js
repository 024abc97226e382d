/**
 * What the database looks like, and what a whole record of it looks like.
 *
 *   entries    one entry a record, key [device, number, hash]: the tail, which is not compacted yet
 *   thousands  the entries of one device that were compacted together, as text; key [device, thousand]
 *   damaged    records that were not whole when they were read, kept as they were found
 *   meta       small things of this install, such as its device id
 *
 * Version 1 had "entries" and "meta" only; what stands in them is the same in version 2.
 *
 * @typedef {{device: string, number: number, hash: string, line: string}} StoredEntry
 * @typedef {{device: string, thousand: number, lines: string, count: number, sha256: string}} Thousand
 *   `lines`: in the order (number, hash), each ended by a line feed; `sha256` is taken over their UTF-8
 * @typedef {{from: 'entries' | 'thousands', key: any, found: string, held: number, device: string,
 *            missing: number[], record: any, detail: string}} Damaged
 *   `missing`: numbers of the entries that could not be read out of it. A record that the browser cannot read at all
 *   stays where it is and is only named here, with the browser's words in `detail`.
 */

export const kVersion = 2;
export const kThousand = 1000;

/** @param {import('idb').IDBPDatabase<any>} database @param {number} from the version that is there, 0 for none */
export function upgrade(database, from) {
  if (from < 1) {
    database.createObjectStore('entries', {keyPath: ['device', 'number', 'hash']});
    database.createObjectStore('meta');
  }
  if (from < 2) {
    // By this index the entries are counted without reading them.
    database.createObjectStore('thousands', {keyPath: ['device', 'thousand']}).createIndex('count', 'count');
    database.createObjectStore('damaged', {autoIncrement: true});
  }
}

/** @param {number} number @param {number} unit */
export const thousandOf = (number, unit) => Math.floor((number - 1) / unit);

/** Keys of all entries of that thousand, whatever their hash. @param {string} device @param {number} thousand @param {number} unit */
export function rangeOf(device, thousand, unit) {
  // An array sorts after every text, so this end is behind the last hash.
  return IDBKeyRange.bound([device, thousand * unit + 1], [device, (thousand + 1) * unit, []]);
}

/** @param {any} record @returns {boolean} */
export function isEntry(record) {
  return (
    typeof record?.device === 'string' &&
    Number.isInteger(record.number) &&
    typeof record.hash === 'string' &&
    typeof record.line === 'string' &&
    record.line !== '' &&
    !record.line.includes('\n')
  );
}

/** Digests come with a secure page; without one neither hash is reckoned here, and the program looks at every line. */
export const canDigest = () => globalThis.crypto?.subtle !== undefined;

/** @param {string | Uint8Array} text @returns {Promise<string>} SHA-256 of its UTF-8, in hex */
export async function sha256(text) {
  const bytes = typeof text === 'string' ? new TextEncoder().encode(text) : text;
  const digest = await crypto.subtle.digest('SHA-256', bytes);
  return Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** @param {Uint8Array} bytes */
function countLines(bytes) {
  let count = 0;
  for (let at = bytes.indexOf(0x0a); at >= 0; at = bytes.indexOf(0x0a, at + 1)) ++count;
  return count;
}

/** @param {any} record @returns {Promise<Uint8Array | undefined>} its lines in UTF-8, where it is whole */
export async function linesOfThousand(record) {
  if (typeof record?.device !== 'string' || !Number.isInteger(record.thousand)) return undefined;
  if (typeof record.lines !== 'string' || !record.lines.endsWith('\n')) return undefined;
  const bytes = new TextEncoder().encode(record.lines);
  if (record.count !== countLines(bytes)) return undefined;
  return !canDigest() || record.sha256 === (await sha256(bytes)) ? bytes : undefined;
}

/** @param {any} record @returns {Promise<boolean>} */
export const isThousand = async (record) => (await linesOfThousand(record)) !== undefined;
