/**
 * Whether the browser promises to keep the logbook, and how much room there is.
 */
import {readLocal, writeLocal} from './settings.js';

const kAsked = 'tawny.persistence-asked';

/**
 * @param {boolean} ask ask for the promise, once in the life of this install
 * @returns {Promise<{persisted: 'yes' | 'no' | 'unknown', usedBytes: number, quotaBytes: number}>}
 */
export async function storageState(ask) {
  const storage = navigator.storage;
  if (!storage?.persisted) return {persisted: 'unknown', usedBytes: 0, quotaBytes: 0};
  let granted = await storage.persisted();
  if (!granted && ask && readLocal(kAsked) === null) {
    writeLocal(kAsked, 'yes');
    granted = await storage.persist();
  }
  const {usage = 0, quota = 0} = await storage.estimate();
  const persisted = granted ? 'yes' : readLocal(kAsked) === null ? 'unknown' : 'no';
  return {persisted, usedBytes: usage, quotaBytes: quota};
}
