/**
 * Wiping: everything that Tawny keeps in this browser is deleted. It is begun by leaving a mark, and the mark goes last:
 * a wipe that a kill cut short goes on at the next start.
 */

import {databaseNames} from './databases.js';

const kMark = 'tawny.wiping';
// The mark once more, on the disk before anything is deleted: localStorage is written when the browser likes.
const kMarkDatabase = 'tawny-wiping';
const kChannel = 'tawny';
const kDatabases = ['tawny-own', 'tawny-demo', 'tawny-new-log'];
const kPatienceMs = 10_000;

/** @param {string} name @returns {Promise<void>} rejected when another tab holds on to it for too long */
function deleteDatabase(name) {
  return new Promise((resolve, reject) => {
    const deleting = indexedDB.deleteDatabase(name);
    deleting.onsuccess = () => resolve();
    deleting.onerror = () => reject(deleting.error);
    setTimeout(() => reject(new Error(name)), kPatienceMs);
  });
}

/** @returns {Promise<string[]>} */
async function databases() {
  const names = ((await databaseNames()) ?? []).filter((name) => name.startsWith('tawny-'));
  return [...new Set([...names, ...kDatabases])].filter((name) => name !== kMarkDatabase);
}

/** @returns {Promise<void>} */
function leaveMark() {
  try {
    localStorage.setItem(kMark, 'yes');
  } catch {
    // The other mark will do.
  }
  return new Promise((resolve) => {
    try {
      const opening = indexedDB.open(kMarkDatabase, 1);
      opening.onsuccess = () => {
        opening.result.close();
        resolve();
      };
      opening.onerror = () => resolve();
    } catch {
      resolve();
    }
  });
}

/**
 * @param {Promise<string[] | undefined>} names of this origin's databases
 * @returns {Promise<boolean>} a wipe was begun and did not come to its end
 */
export async function isWiping(names) {
  try {
    if (localStorage.getItem(kMark) !== null) return true;
  } catch {
    // The other mark will do.
  }
  return (await names)?.includes(kMarkDatabase) ?? false;
}

/** @param {Storage} storage @param {string} [spared] */
function clearStorage(storage, spared) {
  const keys = Array.from({length: storage.length}, (_, i) => storage.key(i) ?? '');
  for (const key of keys) if (key.startsWith('tawny.') && key !== spared) storage.removeItem(key);
}

/** Of this app only: another one may live at the same origin. */
async function clearCaches() {
  if (!('caches' in globalThis)) return;
  const scope = new URL('./', location.href).href;
  for (const name of await caches.keys()) {
    if (name.startsWith('tawny-') || name.endsWith(scope)) await caches.delete(name);
  }
}

async function dismissWorker() {
  const scope = new URL('./', location.href).href;
  for (const registration of (await navigator.serviceWorker?.getRegistrations()) ?? []) {
    if (registration.scope === scope) await registration.unregister();
  }
}

/** Deletes it all, what a wipe before has left too. @returns {Promise<void>} rejected when something holds on */
export async function goOnWiping() {
  const channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel(kChannel) : undefined;
  channel?.postMessage({news: 'wiping'});
  for (const name of await databases()) await deleteDatabase(name);
  await clearCaches();
  await dismissWorker();
  try {
    clearStorage(sessionStorage);
    clearStorage(localStorage, kMark);
  } catch {
    // Where there is no such storage there is nothing in it.
  }
  await deleteDatabase(kMarkDatabase);
  try {
    localStorage.removeItem(kMark);
  } catch {
    // As above.
  }
  channel?.close();
}

/** @returns {Promise<void>} */
export async function wipe() {
  await leaveMark();
  await goOnWiping();
}

/** @param {() => void} onWiping in every other tab, at once */
export function listenForWipe(onWiping) {
  if (!('BroadcastChannel' in globalThis)) return;
  new BroadcastChannel(kChannel).addEventListener('message', ({data}) => {
    if (data?.news === 'wiping') onWiping();
  });
}
