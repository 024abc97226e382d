/**
 * A keyboard of keys beside the screen: digits go to the app's own number keys where they stand on the screen, Escape
 * leaves a move that is being tried, else leads back. Tab, Enter and the blank are the browser's business, on the
 * mirror's elements.
 */

/** @type {Record<string, string>} what is typed: the last part of a number key's id */
const kKeys = {'.': 'mark', ',': 'mark', '-': 'sign', Backspace: 'delete'};

/** @param {string} key @param {{id: string}[]} nodes @returns {string | undefined} the control that is meant */
function meant(key, nodes) {
  if (key === 'Escape') return (nodes.find(({id}) => id === 'move/give_up') ?? nodes.find(({id}) => id === 'back'))?.id;
  // On the lock, after the digits.
  if (key === 'Enter') return document.activeElement === document.body ? nodes.find(({id}) => id === 'lock/open')?.id : undefined;
  const part = /^[0-9]$/.test(key) ? key : kKeys[key];
  return part === undefined ? undefined : nodes.find(({id}) => id.endsWith(`keys/${part}`))?.id;
}

/**
 * @param {import('./mirror.js').Mirror} mirror
 * @param {(id: string) => void} activate
 */
export function watchKeyboard(mirror, activate) {
  addEventListener('keydown', (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
    // What is typed into a real field stays there.
    if (event.target instanceof HTMLInputElement || event.target instanceof HTMLTextAreaElement) return;
    const id = meant(event.key, mirror.nodes);
    if (id === undefined || event.defaultPrevented) return;
    event.preventDefault();
    activate(id);
  });
}
