/**
 * What a phone really keeps: the lines in its IndexedDB, read past the app, and the check of their chain by the rules
 * of core/logbook/FORMAT.md, written a second time.
 */
import {createHash} from 'node:crypto';

/**
 * Every line, in the order (device, number, hash). No database is no line, and none is made by looking.
 * @param {import('playwright-core').Page} page @param {'own' | 'demo'} [store] @returns {Promise<string[]>}
 */
export function storedLines(page, store = 'demo') {
  return page.evaluate(async (name) => {
    if (!(await indexedDB.databases()).some((database) => database.name === name)) return [];
    const answer = (/** @type {IDBRequest} */ request) =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const database = await answer(indexedDB.open(name));
    const all = (/** @type {string} */ from) => answer(database.transaction(from).objectStore(from).getAll());
    const lines = (await all('thousands')).flatMap(({lines}) => lines.split('\n').slice(0, -1));
    lines.push(...(await all('entries')).map(({line}) => line));
    database.close();
    const order = (/** @type {string} */ line) => {
      const {device, number, hash} = JSON.parse(line);
      return `${device} ${String(number).padStart(10, '0')} ${hash}`;
    };
    return lines.sort((a, b) => (order(a) < order(b) ? -1 : 1));
  }, `tawny-${store}`);
}

/** The same, read. @param {import('playwright-core').Page} page @param {'own' | 'demo'} [store] */
export async function storedEntries(page, store) {
  return (await storedLines(page, store)).map((line) => JSON.parse(line));
}

/** What was stored after `before` was read, by number. @param {string[]} before @param {string[]} now */
export function added(before, now) {
  const known = new Set(before);
  return now
    .filter((line) => !known.has(line))
    .map((line) => JSON.parse(line))
    .sort((a, b) => a.number - b.number);
}

/** Every fault of the chains of all devices, in words; none when all is well. @param {string[]} lines */
export function chainFaults(lines) {
  const faults = [];
  /** @type {Map<string, {number: number, hash: string}>} */
  const last = new Map();
  for (const line of lines) {
    const {device, number, previous, hash} = JSON.parse(line);
    const body = line.slice(0, line.lastIndexOf(',"hash":'));
    const before = last.get(device) ?? {number: 0, hash: '0'.repeat(64)};
    if (createHash('sha256').update(body).digest('hex') !== hash) faults.push(`${device}/${number}: hash`);
    if (number !== before.number + 1) faults.push(`${device}: ${number} after ${before.number}`);
    if (previous !== before.hash) faults.push(`${device}/${number}: previous`);
    last.set(device, {number, hash});
  }
  return faults;
}

/** Lines that were changed by hand, with hashes and chain made whole again. @param {string[]} lines of one device */
export function resealed(lines) {
  let previous = '0'.repeat(64);
  return lines.map((line) => {
    const body = line.slice(0, line.lastIndexOf(',"hash":')).replace(/"previous":"[0-9a-f]*"/, `"previous":"${previous}"`);
    previous = createHash('sha256').update(body).digest('hex');
    return `${body},"hash":"${previous}"}`;
  });
}
