/**
 * The pen: one tab of this browser writes in a logbook, the others read along. The pen is a Web Lock, never stolen; a
 * tab that reads along can ask for it, and the writer gives it when nothing there would be lost.
 */

// A page that is loaded anew may come before the old one has let go.
const kPatienceMs = 1000;
// A tab in the background answers late, a frozen one not at all.
const kAnswerMs = 5000;
const kChannel = 'tawny';

/** @typedef {'taken' | 'not_now' | 'no_answer'} AskOutcome */

/** @param {string} store */
const lockName = (store) => `tawny-writer-${store}`;

/** @param {string} store @returns {Promise<LockInfo | undefined>} */
async function holder(store) {
  const {held = []} = await navigator.locks.query();
  return held.find((lock) => lock.name === lockName(store));
}

/** @param {string} store */
const isFree = async (store) => (await holder(store)) === undefined;

/** This page, as the browser names it among those that hold locks. @returns {Promise<string | undefined>} */
async function ownName() {
  const mark = `tawny-page-${crypto.randomUUID()}`;
  const {held = []} = await navigator.locks.request(mark, () => navigator.locks.query());
  return held.find((lock) => lock.name === mark)?.clientId;
}

/** @param {number} milliseconds @returns {Promise<false>} */
const after = (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds, false));

export class Pen {
  /** @param {string} store */
  constructor(store) {
    this.store = store;
    /** Lets the pen go, where this page holds it. @type {(() => void) | undefined} */
    this.letGo = undefined;
  }

  get isHeld() {
    return this.letGo !== undefined;
  }

  /** @returns {Promise<boolean>} whether this page holds the pen; nobody else can where there are no locks */
  async take() {
    if (!navigator.locks) {
      this.letGo = () => {};
      return true;
    }
    const waiting = new AbortController();
    const taking = this.request(waiting.signal);
    /** @type {string | undefined} */
    let me;
    for (;;) {
      if (await Promise.race([taking, after(kPatienceMs)])) return true;
      const writer = await holder(this.store);
      // A busy page hears late that the pen is its own: then the browser says so before the request does.
      if (writer && writer.clientId !== (me ??= await ownName())) break;
    }
    waiting.abort();
    return taking;
  }

  /** @param {AbortSignal} signal @returns {Promise<boolean>} */
  request(signal) {
    return new Promise((resolve) => {
      navigator.locks
        .request(lockName(this.store), {mode: 'exclusive', signal}, () => {
          resolve(true);
          return new Promise((done) => {
            this.letGo = () => {
              this.letGo = undefined;
              done(undefined);
            };
          });
        })
        .catch(() => resolve(false));
    });
  }

  /** For a page that reads along: asks the one that writes. @returns {Promise<AskOutcome>} */
  async ask() {
    if (!navigator.locks || !('BroadcastChannel' in globalThis)) return 'no_answer';
    const waiting = new AbortController();
    const timer = setTimeout(() => waiting.abort(), kAnswerMs);
    /** @type {AskOutcome} */
    let refusal = 'no_answer';
    const me = crypto.randomUUID();
    const channel = new BroadcastChannel(kChannel);
    channel.addEventListener('message', ({data}) => {
      if (data?.news !== 'keeps the pen' || data.to !== me) return;
      refusal = 'not_now';
      waiting.abort();
    });
    // In line before it asks: what the writer lets go of, this page gets.
    const taking = this.request(waiting.signal);
    await navigator.locks.query();
    channel.postMessage({store: this.store, news: 'asks for the pen', from: me});
    const taken = await taking;
    clearTimeout(timer);
    channel.close();
    return taken ? 'taken' : refusal;
  }

  /**
   * For the page that writes, while it writes: answers those who ask.
   * @param {{settle: () => Promise<void>, stopWriting: () => boolean, onUnclaimed: () => void}} ways `settle` waits for
   *   what is under way; `stopWriting` makes this page one that reads along, or says no, at once; `onUnclaimed`: this
   *   page gave the pen to one that was gone by then
   */
  answerAsks({settle, stopWriting, onUnclaimed}) {
    if (!navigator.locks || !('BroadcastChannel' in globalThis)) return;
    const channel = new BroadcastChannel(kChannel);
    channel.addEventListener('message', async ({data}) => {
      if (data?.store !== this.store || data.news !== 'asks for the pen' || !this.isHeld) return;
      await settle();
      const {pending = []} = await navigator.locks.query();
      // Who asked may be gone by now; then nobody would hold the pen.
      const isAwaited = pending.some(({name}) => name === lockName(this.store));
      if (!isAwaited || !this.isHeld) return;
      if (stopWriting()) {
        this.letGo?.();
        setTimeout(async () => {
          if (await isFree(this.store)) onUnclaimed();
        }, kPatienceMs);
      } else {
        channel.postMessage({store: this.store, news: 'keeps the pen', to: data.from});
      }
    });
  }
}

/**
 * For a page without the pen: `onFree` when the person comes back to it and the other tab is gone.
 * @param {string} store @param {() => void} onFree
 */
export function watchPen(store, onFree) {
  document.addEventListener('visibilitychange', async () => {
    if (document.visibilityState === 'visible' && (await isFree(store))) onFree();
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
