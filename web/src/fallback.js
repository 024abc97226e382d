/**
 * What a person sees when the program cannot run: plain sentences, and a way to take the logbook out all the same.
 */
import {isLockSet, opensLock} from './lock.js';
import {shareFile} from './share.js';
import {Store} from './store.js';
import {say} from './words.js';

/**
 * The build's own check that this browser can run the program. The drawing context that it asks for is the one that the
 * program finds on the canvas later: making it takes long, and goes on here while the program is being fetched.
 * @param {HTMLCanvasElement} canvas
 */
export const canRun = (canvas) =>
  'WebAssembly' in globalThis &&
  canvas.getContext('webgl2', {alpha: false, depth: false, stencil: false, antialias: false}) !== null;

/** @param {string} sentence @param {string} database */
export function showFallback(sentence, database) {
  const message = document.createElement('p');
  message.textContent = sentence;
  message.setAttribute('role', 'alert');
  const note = document.createElement('p');
  const again = document.createElement('button');
  again.textContent = say('page.again');
  again.addEventListener('click', () => location.reload());
  // Whoever cannot open the app does not get its logbook here either.
  const pin = document.createElement('input');
  pin.type = 'password';
  pin.inputMode = 'numeric';
  pin.autocomplete = 'off';
  pin.setAttribute('aria-label', say('page.pin'));
  pin.placeholder = say('page.pin');
  pin.hidden = !isLockSet();
  const takeOut = document.createElement('button');
  takeOut.textContent = say('page.take_out');
  takeOut.addEventListener('click', async () => {
    if (!pin.hidden && !(await opensLock(pin.value))) {
      note.textContent = say('page.pin_wrong');
      return;
    }
    try {
      const parts = [];
      const decoder = new TextDecoder();
      for await (const {lines} of new Store(database).portions()) {
        parts.push(typeof lines === 'string' ? lines : decoder.decode(lines));
      }
      note.textContent = parts.length === 0 ? say('page.empty') : '';
      if (parts.length > 0) await shareFile(`${database}.txt`, parts.join(''));
    } catch (error) {
      note.textContent = say('page.unreadable').replace('{detail}', String(error));
    }
  });
  show(message, again, pin, takeOut, note);
}

/** A sentence in place of the app, and the way to start it anew. @param {string} sentence */
export function showNotice(sentence) {
  const message = document.createElement('p');
  message.textContent = sentence;
  message.setAttribute('role', 'alert');
  const again = document.createElement('button');
  again.textContent = say('page.again');
  again.addEventListener('click', () => location.reload());
  show(message, again);
}

/** @param {...HTMLElement} parts */
function show(...parts) {
  const fallback = /** @type {HTMLElement} */ (document.getElementById('fallback'));
  fallback.replaceChildren(...parts);
  fallback.hidden = false;
  /** @type {HTMLElement} */ (document.getElementById('mirror')).hidden = true;
}

/** The program draws again. */
export function hideFallback() {
  /** @type {HTMLElement} */ (document.getElementById('fallback')).hidden = true;
  /** @type {HTMLElement} */ (document.getElementById('mirror')).hidden = false;
}
