/**
 * Whether this browser opens the app for the first time, as far as it says. Then the first part of the program alone
 * shows the first screen (program.js); any other time both parts are fetched as soon as the page knows their names.
 */
import {isNewHere, writeOnce} from './settings.js';

const kWhole = 'tawny.whole';

/** The first screen asked for more than its part: this tab's starts have it all from now on. */
export const beginWholeFromNowOn = () => writeOnce(kWhole);

function mustBeWhole() {
  try {
    return sessionStorage.getItem(kWhole) !== null;
  } catch {
    return true;
  }
}

/**
 * Right only before anything is written, and before a link's settings are taken out of the address: who comes with any
 * has more to see than the first screen of a new phone.
 */
export const isFirstVisit = () =>
  location.search === '' && location.hash === '' && !navigator.serviceWorker?.controller && isNewHere() && !mustBeWhole();

/** @param {string} name of the second part */
export function preload(name) {
  const link = document.createElement('link');
  Object.assign(link, {rel: 'preload', as: 'fetch', type: 'application/wasm', crossOrigin: 'anonymous', href: name});
  document.head.append(link);
}
