/**
 * Small settings of this device, in localStorage, outside the logbook. A browser may refuse localStorage
 * altogether; then a setting lasts as long as the page.
 */

const kPrefix = 'tawny.setting.';
const kept = new Map();
let isClosed = false;

/** A wipe is under way: from here on nothing is written, or it would be there after it. */
export function closeSettings() {
  isClosed = true;
}

/** @param {string} key @returns {string | null} */
export function readLocal(key) {
  try {
    return localStorage.getItem(key);
  } catch {
    return kept.get(key) ?? null;
  }
}

/** @param {string} key @param {string} value */
export function writeLocal(key, value) {
  kept.set(key, value);
  if (isClosed) return;
  try {
    localStorage.setItem(key, value);
  } catch {
    // Kept in memory only: nothing here is worth stopping for.
  }
}

/** @param {string} key */
export function removeLocal(key) {
  kept.delete(key);
  try {
    localStorage.removeItem(key);
  } catch {
    // There was none to remove.
  }
}

/** Nothing was ever remembered here, as far as the browser says. */
export function isNewHere() {
  try {
    return !Object.keys(localStorage).some((key) => key.startsWith('tawny'));
  } catch {
    return false;
  }
}

/** @returns {Record<string, string>} */
export function allSettings() {
  /** @type {Record<string, string>} */
  const settings = {};
  try {
    for (let i = 0; i < localStorage.length; ++i) {
      const key = localStorage.key(i);
      if (key?.startsWith(kPrefix)) settings[key.slice(kPrefix.length)] = localStorage.getItem(key) ?? '';
    }
  } catch {
    // No localStorage: every setting has its first value.
  }
  return settings;
}

/** @param {string} key @param {string} value */
export function remember(key, value) {
  writeLocal(kPrefix + key, value);
}

/** For this tab's next start. @param {string} key */
export function writeOnce(key) {
  try {
    sessionStorage.setItem(key, 'yes');
  } catch {
    // Then the next start is one like any other.
  }
}

/** @param {string} key @returns {boolean} whether the start before this one said so; asked a second time, it did not */
export function takeOnce(key) {
  try {
    const said = sessionStorage.getItem(key) !== null;
    sessionStorage.removeItem(key);
    return said;
  } catch {
    return false;
  }
}

/**
 * The size of letters before anybody chose one: who has larger ones in the browser gets larger ones here.
 * @returns {string} as `text_size` counts, in percent
 */
export function firstTextSize() {
  const probe = document.createElement('span');
  probe.style.fontSize = 'medium';
  document.body.append(probe);
  const px = parseFloat(getComputedStyle(probe).fontSize);
  probe.remove();
  return px >= 28 ? '200' : px >= 20 ? '150' : '100';
}
