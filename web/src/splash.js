/**
 * What stands on the page until the app draws: its frame, and on a slow way a word and how far it is; and the same word
 * under the first screen of a new phone while what it leads to is on its way.
 */
import {say} from './words.js';

/** Faster than this, a word would only flicker. */
const kPatienceMs = 1200;

/** @template {HTMLElement} T @param {string} id @returns {T} */
const part = (id) => /** @type {T} */ (document.getElementById(id));

export class Splash {
  constructor() {
    this.late = setTimeout(() => {
      part('splash-word').textContent = say('page.loading');
    }, kPatienceMs);
  }

  /** The store is being read. @param {number} share 0..1 */
  reading(share) {
    const bar = /** @type {HTMLProgressElement} */ (part('splash-bar'));
    bar.hidden = false;
    bar.value = share;
  }

  end() {
    clearTimeout(this.late);
    document.getElementById('splash')?.remove();
  }

  /** The first screen stands, but on a slow way what it leads to is not there yet. */
  promise() {
    this.late = setTimeout(() => {
      part('coming').textContent = say('page.loading');
    }, kPatienceMs);
  }

  /** All is there. */
  keepPromise() {
    clearTimeout(this.late);
    document.getElementById('coming')?.remove();
  }
}
