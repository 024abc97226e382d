/**
 * The entry bar: the one real text field of the app, docked above the phone's keyboard. A canvas cannot raise a
 * keyboard, and text typed into one loses letters, so names and notes are typed here.
 *
 * A phone opens its keyboard only for a field that is focused within the handler of the touch itself. So the page
 * finds by itself, from the mirror's rectangles, that a text field was tapped.
 */
import {isDisabled} from './mirror.js';
import {say} from './words.js';

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
    if (kind === 'secret') {
      // What is kept is not shown, so there is nothing to begin from.
      input.value = '';
      input.setAttribute('type', 'password');
      input.autocomplete = 'new-password';
    }
    if (kind === 'address') input.inputMode = 'url';
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
 * Opens the bar when a tap on the canvas began and ended on one text field. Must be called within the handler of the
 * touch or the click.
 * @param {import('./mirror.js').Mirror} mirror @param {EntryBar} entryBar
 * @param {{x: number, y: number}} from @param {{x: number, y: number}} to
 */
export function openOnTap(mirror, entryBar, from, to) {
  const node = mirror.nodeAt(to.x, to.y);
  if (node?.role === 'textfield' && node === mirror.nodeAt(from.x, from.y)) entryBar.open(node);
}
