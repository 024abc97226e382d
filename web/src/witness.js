/**
 * The witness: how far this device had come at its last save, kept outside IndexedDB, in localStorage and in the
 * Cache API, which are different engines. A browser replaces a damaged IndexedDB by an empty one without a word;
 * the witness is how that is found out.
 */
import {readLocal, removeLocal, writeLocal} from './settings.js';

/** @typedef {{device: string, number: number, hash: string}} Witness */

const kCache = 'tawny-witness';

/** @param {string} store */
const localKey = (store) => `tawny.witness.${store}`;
/** @param {string} store */
const cacheKey = (store) => new URL(`witness/${store}`, location.href.split(/[?#]/)[0]).href;

/** @param {string | null | undefined} text @returns {Witness | null} */
function parse(text) {
  try {
    const {device, number, hash} = JSON.parse(text ?? 'null');
    const whole = typeof device === 'string' && Number.isSafeInteger(number) && typeof hash === 'string';
    return whole ? {device, number, hash} : null;
  } catch {
    return null;
  }
}

/** @param {string} store */
async function readCache(store) {
  try {
    return parse(await (await (await caches.open(kCache)).match(cacheKey(store)))?.text());
  } catch {
    return null;
  }
}

/**
 * The one that has seen more, when both speak of the same device. When they do not, a change of the device's id
 * was cut short: `device`, the id that the store knows, decides; both are read without waiting for it.
 * @param {string} store @param {string | undefined | Promise<string | undefined>} device @returns {Promise<Witness | null>}
 */
export async function readWitness(store, device) {
  const near = parse(readLocal(localKey(store)));
  const far = await readCache(store);
  if (!near || !far) return near ?? far;
  if (near.device !== far.device) return far.device === (await device) ? far : near;
  return far.number > near.number ? far : near;
}

/** @param {string} store @param {Witness} witness */
export async function writeWitness(store, witness) {
  const text = JSON.stringify(witness);
  writeLocal(localKey(store), text);
  try {
    await (await caches.open(kCache)).put(cacheKey(store), new Response(text));
  } catch {
    // One of the two is enough to raise the alarm.
  }
}

/** @param {string} store */
export async function clearWitness(store) {
  removeLocal(localKey(store));
  try {
    await (await caches.open(kCache)).delete(cacheKey(store));
  } catch {
    // There is no cache, so there is no witness in it.
  }
}
