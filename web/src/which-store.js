/**
 * Which of the two logbooks this page works on: the person's own, or the demo farm. `?demo` and `?own` in the
 * address choose; the choice lasts until this tab is closed, so that a fresh start is always on the own logbook.
 */

/** @typedef {'own' | 'demo'} StoreName */

const kKey = 'tawny.store';

/** @returns {StoreName} */
export function chosenStore() {
  const asked = new URL(location.href).searchParams;
  if (asked.has('demo') || asked.has('own')) {
    choose(asked.has('demo') ? 'demo' : 'own');
    history.replaceState(null, '', location.pathname);
  }
  try {
    return sessionStorage.getItem(kKey) === 'demo' ? 'demo' : 'own';
  } catch {
    return asked.has('demo') ? 'demo' : 'own';
  }
}

/** @param {StoreName} store */
export function choose(store) {
  try {
    sessionStorage.setItem(kKey, store);
  } catch {
    // Then only the address chooses.
  }
}
