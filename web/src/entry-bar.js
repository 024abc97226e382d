/**
 * The entry bar: the one real text field of the app, docked above the phone's keyboard. A canvas cannot raise a
 * keyboard, and text typed into one loses letters, so names and notes are typed here.
 *
 * A phone opens its keyboard only for a field that is focused within the handler of the touch itself. So the page
 * finds by itself, from the mirror's rectangles, that a text field was tapped.
 */
import {isDisabled} from './mirror.js';
import {say} from './words.js';

/** A finger that moved further than this was scrolling. */
const kDragPx = 16;

/** @typedef {import('./mirror.js').Node} Node */

export class EntryBar {
  /**
   * @param {{bar: HTMLElement, scrim: HTMLElement, behind: HTMLElement}} parts `behind` is out of reach meanwhile
   * @param {(field: string, text: string) => void} onText
   */
  constructor({bar, scrim, behind}, onText) {
    this.bar = bar;
    this.scrim = scrim;
    this.behind = behind;
    this.onText = onText;
    this.label = /** @type {HTMLLabelElement} */ (bar.querySelector('label'));
    this.hint = /** @type {HTMLElement} */ (bar.querySelector('.hint'));
    this.place = /** @type {HTMLElement} */ (bar.querySelector('.field'));
    /** @type {HTMLInputElement | HTMLTextAreaElement | undefined} */
    this.input = undefined;
    this.field = '';
    /** @type {Element | null} */
    this.focusBefore = null;
    const [cancel, ok] = /** @type {NodeListOf<HTMLButtonElement>} */ (bar.querySelectorAll('button'));
    this.keys = {cancel, ok};
    this.nameKeys();
    cancel.addEventListener('click', () => this.close());
    bar.addEventListener('submit', (event) => {
      event.preventDefault();
      this.accept();
    });
    bar.addEventListener('keydown', (event) => {
      if (event.key === 'Escape') this.close();
      // While a letter is still being composed, Enter belongs to the keyboard.
      if (event.key === 'Enter' && !event.shiftKey && !event.isComposing && event.target === this.input) {
        event.preventDefault();
        this.accept();
      }
    });
    const keepAboveKeyboard = () => this.dock();
    visualViewport?.addEventListener('resize', keepAboveKeyboard);
    visualViewport?.addEventListener('scroll', keepAboveKeyboard);
  }

  /** Words the keys in the page's present language. */
  nameKeys() {
    this.keys.cancel.textContent = say('page.cancel');
    this.keys.ok.textContent = say('page.ok');
  }

  get isOpen() {
    return !this.bar.hidden;
  }

  /** Must be called within the handler of the touch, the click or the key. @param {Node} node */
  open(node) {
    if (isDisabled(node)) return;
    this.field = node.id;
    this.focusBefore = document.activeElement;
    const kind = node.input_kind ?? 'text';
    const input = document.createElement(kind === 'note' ? 'textarea' : 'input');
    input.id = 'entry-bar-input';
    input.value = node.value ?? '';
    input.autocomplete = 'off';
    input.enterKeyHint = 'done';
    input.autocapitalize = kind === 'name' ? 'words' : kind === 'note' ? 'sentences' : 'none';
    if (kind === 'decimal') input.inputMode = 'decimal';
    if (kind === 'name' || kind === 'decimal') input.spellcheck = false;
    if (node.max_length) input.maxLength = node.max_length;
    if (node.hint) input.setAttribute('aria-describedby', this.hint.id);
    this.input = input;
    this.label.textContent = node.name ?? '';
    this.hint.textContent = node.hint ?? '';
    this.place.replaceChildren(input);
    this.bar.hidden = false;
    this.scrim.hidden = false;
    this.behind.inert = true;
    input.focus({preventScroll: true});
    input.select();
    this.dock();
  }

  accept() {
    if (!this.input) return;
    // Composed letters, since the renderer shows loose marks for decomposed ones.
    const text = this.input.value.normalize('NFC').trim();
    const field = this.field;
    this.close();
    this.onText(field, text);
  }

  close() {
    if (!this.isOpen) return;
    this.input?.blur();
    this.input = undefined;
    this.place.replaceChildren();
    this.bar.hidden = true;
    this.scrim.hidden = true;
    this.behind.inert = false;
    if (this.focusBefore instanceof HTMLElement && this.focusBefore !== document.body) {
      this.focusBefore.focus({preventScroll: true});
    }
  }

  dock() {
    if (!this.isOpen || !visualViewport) return;
    const covered = innerHeight - visualViewport.height - visualViewport.offsetTop;
    this.bar.style.bottom = `${Math.max(0, covered)}px`;
  }
}

/**
 * Opens the bar when a finger or a mouse taps a text field on the canvas.
 * @param {HTMLCanvasElement} canvas @param {import('./mirror.js').Mirror} mirror @param {EntryBar} entryBar
 */
export function openOnTap(canvas, mirror, entryBar) {
  /** @type {{x: number, y: number} | undefined} */
  let start;
  /** @param {{clientX: number, clientY: number}} point */
  const begin = ({clientX, clientY}) => {
    start = {x: clientX, y: clientY};
  };
  /** @param {{clientX: number, clientY: number}} point */
  const end = ({clientX, clientY}) => {
    if (!start) return;
    const dragged = Math.hypot(clientX - start.x, clientY - start.y) > kDragPx;
    start = undefined;
    const node = dragged ? undefined : mirror.nodeAt(clientX, clientY);
    if (node?.role === 'textfield') entryBar.open(node);
  };
  canvas.addEventListener('touchstart', (event) => {
    if (event.touches.length === 1) {
      begin(event.touches[0]);
    } else {
      start = undefined;
    }
  });
  canvas.addEventListener('touchend', (event) => end(event.changedTouches[0]));
  canvas.addEventListener('touchcancel', () => {
    start = undefined;
  });
  canvas.addEventListener('mousedown', begin);
  // "click" comes after every handler that could take the focus away again.
  canvas.addEventListener('click', end);
}
