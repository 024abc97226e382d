/**
 * The pen: one tab of this browser writes in a logbook, the others read along. The pen is a Web Lock, held for the
 * page's life and never stolen.
 */

// A page that is loaded anew may come before the old one has let go.
const kPatienceMs = 1000;
const kChannel = 'tawny';

/** @param {string} store */
const lockName = (store) => `tawny-writer-${store}`;

/**
 * @param {string} store @returns {Promise<boolean>} true when this page holds the pen
 */
export function takePen(store) {
  if (!navigator.locks) return Promise.resolve(true);
  return new Promise((resolve) => {
    const patience = new AbortController();
    const timer = setTimeout(() => patience.abort(), kPatienceMs);
    navigator.locks
      .request(lockName(store), {mode: 'exclusive', signal: patience.signal}, () => {
        clearTimeout(timer);
        resolve(true);
        return new Promise(() => {});
      })
      .catch(() => resolve(false));
  });
}

/** @param {string} store */
async function penIsFree(store) {
  const {held = []} = await navigator.locks.query();
  return !held.some((lock) => lock.name === lockName(store));
}

/**
 * For a page without the pen: `onFree` when the person comes back to it and the other tab is gone.
 * @param {string} store @param {() => void} onFree
 */
export function watchPen(store, onFree) {
  document.addEventListener('visibilitychange', async () => {
    if (document.visibilityState === 'visible' && (await penIsFree(store))) onFree();
  });
}

/** Tells the other tabs that the logbook grew. @param {string} store */
export function tellGrown(store) {
  if (!('BroadcastChannel' in globalThis)) return;
  const channel = new BroadcastChannel(kChannel);
  channel.postMessage({store, news: 'grew'});
  channel.close();
}

/** @param {string} store @param {() => void} onGrown */
export function listenForGrowth(store, onGrown) {
  if (!('BroadcastChannel' in globalThis)) return;
  new BroadcastChannel(kChannel).addEventListener('message', ({data}) => {
    if (data?.store === store && data.news === 'grew') onGrown();
  });
}
