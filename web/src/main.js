/**
 * The order in which the app starts: pen, store, witness and program, each asked for as soon as it can be, then the
 * lines into the program, and only then what can wait (service worker, room left).
 */
import {Carrying} from './carry.js';
import {Compactor} from './compaction.js';
import {damageReport, setAside} from './damage.js';
import {databaseNames} from './databases.js';
import {codeRows, takeLink} from './depot-link.js';
import {EntryBar, openOnTap} from './entry-bar.js';
import {canRun, hideFallback, showFallback, showNotice} from './fallback.js';
import {beginWholeFromNowOn, isFirstVisit} from './first-visit.js';
import {installHost} from './host.js';
import {canSign, check, makeKey, sign} from './key.js';
import {watchKeyboard} from './keyboard.js';
import {canHash, derivePin, watchSeen} from './lock.js';
import {Mirror} from './mirror.js';
import {beginNewLog} from './new-log.js';
import {Pen} from './pen.js';
import {storageState} from './persistence.js';
import {pickFile, takeDrops, takeShares} from './pick.js';
import {NoPicture, PartMissing, Program} from './program.js';
import {Saver, parseEntries} from './saver.js';
import {watchScreen} from './screen.js';
import {allSettings, closeSettings, firstTextSize, readLocal, remember, takeOnce, writeLocal, writeOnce} from './settings.js';
import {mustStartAgain, reach} from './reach.js';
import {shareFile} from './share.js';
import {showReport} from './show-report.js';
import {Splash} from './splash.js';
import {answerOf, Store} from './store.js';
import {Tabs} from './tabs.js';
import {watchTouches} from './touch.js';
import {acceptUpdate, startServiceWorker} from './update.js';
import {choose, chosenStore} from './which-store.js';
import {goOnWiping, isWiping, listenForWipe, wipe} from './wipe.js';
import {clearWitness, readWitness} from './witness.js';
import {chosenLanguage, fetchWords, languages, say, setLanguage} from './words.js';

const kDepotSaved = 'tawny.depot-saved';
// A kept line was not what its hash says: from then on every start looks at all of them first.
const kWithHashes = 'tawny.with-hashes';

/** @template {HTMLElement} T @param {string} id @returns {T} */
const part = (id) => /** @type {T} */ (document.getElementById(id));

// The page's first script has done so, unless it did not come.
reach();
const beginsSmall = isFirstVisit();
// Taken out of the address before anything else can look at it.
const broughtDepot = takeLink();
const depotSaved = takeOnce(kDepotSaved);
const canvas = /** @type {HTMLCanvasElement} */ (part('canvas'));
const storeName = chosenStore();
const store = new Store(`tawny-${storeName}`);
const pen = new Pen(storeName);
const compactor = new Compactor(store);
let isWipingHere = false;
/** The program knows of damage that has not been made good. */
let saidDamage = false;

const newDeviceId = () =>
  Array.from(crypto.getRandomValues(new Uint8Array(6)), (byte) => byte.toString(16).padStart(2, '0')).join('');

/** The id of a new install, with its key where the browser can make one. @returns {Promise<[string, unknown][]>} */
async function newIdentity() {
  if (!canSign()) return [['device', newDeviceId()]];
  const {id, key} = await makeKey();
  return [
    ['device', id],
    ['key', key],
  ];
}

/** This install's id and key and what the witness says; new ones on a new phone. @param {boolean} writer */
async function openStore(writer) {
  let device;
  /** @type {import('./key.js').Key | undefined} */
  let key;
  /** @type {import('./store.js').Answer} */
  let state = {outcome: 'saved', detail: ''};
  const known = Promise.all([store.meta('device'), store.meta('key')]);
  const witnessed = readWitness(
    storeName,
    known.then(
      ([id]) => id,
      () => undefined,
    ),
  );
  try {
    [device, key] = await known;
  } catch (error) {
    state = answerOf(error);
  }
  const witness = await witnessed;
  const isNew = device === undefined && !witness && state.outcome === 'saved';
  if (device === undefined) {
    // A store that was lost has taken the key with it: the old id stays until its entries are back.
    const identity = witness ? [['device', witness.device]] : await newIdentity();
    ({device, key} = Object.fromEntries(identity));
    if (writer && state.outcome === 'saved') {
      try {
        await store.setMetas(identity);
      } catch (error) {
        state = answerOf(error);
      }
    }
  }
  return {device: String(device), key, witness, state, isNew};
}

/**
 * @param {Program} program @param {AsyncGenerator<import('./store.js').Portion>} portions
 * @param {(share: number) => void} [onShare] how much of the store is read
 */
async function giveLines(program, portions, onShare) {
  const counting = onShare ? store.count().catch(() => 0) : 0;
  let read = 0;
  const withHashes = readLocal(kWithHashes) !== null;
  for await (const {lines, count, kept} of portions) {
    program.send(kept && !withHashes ? 'kept_lines' : 'lines', lines);
    read += count;
    const all = await counting;
    if (all > count) onShare?.(read / all);
  }
  program.send('ready');
}

/** @param {Program} program */
async function tellDamage(program) {
  try {
    if (pen.isHeld) await setAside(store, store.findings);
    const {records, held, missing} = await damageReport(store, store.findings);
    if (records > 0 || saidDamage) program.send('store_damage', records, held, missing);
    saidDamage = missing > 0;
    store.findings = [];
  } catch {
    // The store does not answer, which the next save will say.
  }
}

/** @param {string} text @param {boolean} urgent */
function announce(text, urgent) {
  const region = part(urgent ? 'said-now' : 'said');
  // The same words twice are said twice only when the region changes in between.
  region.textContent = '';
  setTimeout(() => {
    region.textContent = text;
  }, 50);
}

/** @param {boolean} night */
function showNight(night) {
  document.documentElement.classList.toggle('night', night);
  document.querySelector('meta[name="theme-color"]')?.setAttribute('content', night ? '#0c0906' : '#f5efe3');
  writeLocal('tawny.night', night ? 'yes' : 'no');
}

/** @param {Program} program */
function askPosition(program) {
  navigator.geolocation?.getCurrentPosition(
    ({coords}) => program.send('position', coords.latitude, coords.longitude),
    () => {},
    {enableHighAccuracy: false, timeout: 60_000, maximumAge: 600_000},
  );
}

/** @param {Program} program @param {boolean} ask */
async function tellStorage(program, ask) {
  const {persisted, usedBytes, quotaBytes} = await storageState(ask);
  program.send('storage', persisted, usedBytes, quotaBytes);
}

/** @param {Program} program @param {Saver} saver @param {Tabs} tabs @param {Mirror} mirror @param {EntryBar} entryBar
 *  @param {() => import('./key.js').Key | undefined} keyNow @param {() => void} stop leaves the page that has the way to the logbook */
function hostFor(program, saver, tabs, mirror, entryBar, keyNow, stop) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let alarmClock;
  const onFile = (/** @type {string} */ name, /** @type {string} */ text) => void program.send('file', name, text);
  const carrying = new Carrying();
  takeDrops(onFile, announce);
  installHost({
    async save(ticket, entries) {
      const parsed = parseEntries(entries);
      const {outcome, detail, settled} = await saver.save(parsed);
      program.send('saved', ticket, outcome, detail);
      await settled;
      if (outcome === 'saved') compactor.saved(parsed);
      if (saidDamage) await tellDamage(program);
      await tellStorage(program, outcome === 'saved');
    },
    async shareFile(name, text) {
      if (await shareFile(name, text)) program.send('shared', name);
    },
    showReport: (name, html) => void showReport(name, html),
    showLicences() {
      // Where no tab can be opened, in the place of the app: the page leads back to it.
      if (!open('licences.html', '_blank')) location.assign('licences.html');
    },
    async carry(ticket, act, name, bytes) {
      const {fault, detail, payload} = await carrying.step(act, name, bytes);
      program.send('carried', ticket, fault, detail, payload);
    },
    stopCarrying: () => carrying.stop(),
    sign: async (ticket, text) => void program.send('signed', ticket, await sign(keyNow(), text)),
    checkSignatures: async (ticket, rows) => void program.send('checked', ticket, await check(rows)),
    restartForDepot() {
      if (!mustStartAgain()) return false;
      writeOnce(kDepotSaved);
      void saver.idle().then(() => location.reload());
      return true;
    },
    startWithHashes() {
      writeLocal(kWithHashes, 'yes');
      // No room even for that: the next start would find the same and never end.
      if (readLocal(kWithHashes) === null) {
        stop();
        return;
      }
      void saver.idle().then(() => location.reload());
    },
    codeRows,
    pickFile: () => pickFile(onFile, announce),
    mirror: (json) => mirror.update(JSON.parse(json)),
    announce,
    vibrate(milliseconds) {
      if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.(milliseconds);
    },
    async fetchWords(language) {
      const table = await fetchWords(language);
      if (table !== '') {
        setLanguage(language);
        entryBar.nameKeys();
      }
      program.send('words', language, table);
    },
    remember,
    async switchStore(other, fresh) {
      if (fresh && other === 'demo') {
        const emptied = other === storeName ? store : new Store('tawny-demo');
        await emptied.destroy();
        await clearWitness('demo');
      }
      choose(other);
      location.reload();
    },
    async takeNewDeviceId() {
      await store.setMetas(await newIdentity());
      await clearWitness(storeName);
      location.reload();
    },
    acceptUpdate,
    askForPen: () => void tabs.askForPen(),
    askPosition: () => askPosition(program),
    showNight,
    async derivePin(ticket, pin, salt, iterations) {
      program.send('derived', ticket, await derivePin(pin, salt, iterations));
    },
    showLocked(locked) {
      // Asked for from within the program, so what is handed to it waits until it is done. The text that is being typed
      // comes back with the form it belongs to.
      if (locked) queueMicrotask(() => entryBar.accept());
      const region = part('said');
      if (locked) region.textContent = part('said-now').textContent = '';
    },
    wipe: () => void wipeThisDevice(saver),
    wakeAfter(milliseconds) {
      clearTimeout(alarmClock);
      // The clock of setTimeout counts in 32 bits; a wait longer than a day is asked for anew on the next wake.
      alarmClock = setTimeout(() => program.send('wake'), Math.min(Math.max(milliseconds, 0), 86_400_000));
    },
  });
}

/** Nothing is written any more, then all of it is deleted, and the page starts as new. @param {Saver} saver */
async function wipeThisDevice(saver) {
  isWipingHere = true;
  saver.isClosed = true;
  closeSettings();
  await saver.idle();
  compactor.stop();
  await compactor.current?.catch(() => {});
  await store.close();
  try {
    await wipe();
  } catch {
    // The next start goes on with it, and says what is in the way.
  }
  location.replace('./');
}

async function start() {
  const language = chosenLanguage();
  setLanguage(language);
  const splash = new Splash();
  const giveUp = (/** @type {string} */ sentence) => {
    splash.end();
    showFallback(sentence, store.name);
  };
  const stop = () => giveUp(say('page.stopped'));
  // What breaks the program without a word of its own, such as a phone that has no more memory to give.
  addEventListener('error', ({error}) => error instanceof WebAssembly.RuntimeError && stop());
  addEventListener('unhandledrejection', ({reason}) => reason instanceof WebAssembly.RuntimeError && stop());
  // The first screen wanted more than a new phone's. Nothing is said or stored by then, so the next start makes it good.
  const startWhole = () => {
    beginWholeFromNowOn();
    location.reload();
  };
  addEventListener('error', ({error}) => error instanceof PartMissing && startWhole());
  addEventListener('unhandledrejection', ({reason}) => reason instanceof PartMissing && startWhole());
  // Asking the browser for databases and locks takes a while; what waits for no answer is done meanwhile.
  const names = databaseNames();
  const taking = pen.take();
  const loading = Program.load(canvas, stop, !beginsSmall);
  loading.catch(() => {});
  const fetching = fetchWords(language);
  const runs = canRun(canvas);
  if (await isWiping(names)) {
    try {
      await goOnWiping();
      location.replace('./');
    } catch {
      splash.end();
      showNotice(say('page.wipe_blocked'));
    }
    return;
  }
  if (!runs) {
    giveUp(say('page.no_graphics'));
    return;
  }
  if (await taking) {
    const log = beginNewLog(names);
    store.mayWrite = log.begun;
    await log.asked;
  }
  let opened = await openStore(pen.isHeld);
  // While this page holds the pen nobody else saves. One that reads along listens first for what is saved meanwhile.
  const begun = pen.isHeld ? store.portions() : undefined;
  let program;
  try {
    program = await loading;
    // What a browser kept of an earlier use is more than the first screen.
    if (!opened.isNew || !pen.isHeld) await program.complete();
  } catch (error) {
    if (error instanceof PartMissing) throw error;
    giveUp(say(error instanceof NoPicture ? 'page.no_graphics' : 'page.no_program'));
    return;
  }

  const table = await fetching;
  if (table === '') {
    giveUp(say('page.no_program'));
    return;
  }
  program.send('words', language, table);

  const entryBar = new EntryBar(
    {bar: part('entry-bar'), scrim: part('scrim'), behind: part('mirror')},
    (field, text) => program.send('text', field, text),
  );
  const mirror = new Mirror(
    part('mirror'),
    (node) => {
      if (node.role === 'textfield') {
        entryBar.open(node);
      } else {
        program.send('activate', node.id);
      }
    },
    (node) => program.send('reveal', node.id),
  );
  const saver = new Saver({store, storeName, ...opened});
  const tabs = new Tabs({
    pen,
    saver,
    compactor,
    program,
    async giveAllLines() {
      program.send('grew');
      await giveLines(program, store.portions());
    },
    async openAgain() {
      opened = await openStore(true);
      Object.assign(saver, {device: opened.device, witness: opened.witness});
      program.send('grew');
      boot(opened.state, false);
      await giveLines(program, store.portions());
    },
  });
  hostFor(program, saver, tabs, mirror, entryBar, () => opened.key, stop);
  listenForWipe(async () => {
    if (isWipingHere) return;
    saver.isClosed = true;
    closeSettings();
    mirror.update({title: 'Tawny', nodes: []});
    showNotice(say('page.wiped'));
    await store.close();
  });
  watchSeen((seen) => program.send('seen', seen));
  watchTouches(
    canvas,
    {
      touch: (...contact) => program.send('touch', ...contact) ?? 0,
      letAllGo: () => program.send('let_all_go'),
      wheel: (...turn) => program.send('wheel', ...turn),
    },
    (from, to) => openOnTap(mirror, entryBar, from, to),
  );
  watchKeyboard(mirror, (id) => {
    if (!entryBar.isOpen) program.send('activate', id);
  });
  watchScreen(canvas, {
    insets: (...sides) => program.send('insets', ...sides),
    context: (lost) => program.send('context', lost),
    reducedMotion: (reduced) => program.send('reduced_motion', reduced),
    wake: () => program.send('wake'),
    withoutPicture(gone) {
      if (gone) {
        showFallback(say('page.no_picture'), store.name);
      } else {
        hideFallback();
      }
    },
  });

  /** @param {import('./store.js').Answer} storeState @param {boolean} writer */
  const boot = (storeState, writer) =>
    program.send(
      'start',
      JSON.stringify({
        store: storeName,
        device: opened.device,
        publicKey: opened.key?.publicKey ?? '',
        witness: opened.witness,
        writer,
        storeState: storeState.outcome,
        settings: {text_size: firstTextSize(), ...allSettings()},
        languages,
        canLock: canHash(),
        depot: broughtDepot,
        depotSaved,
        version: __TAWNY_VERSION__,
        offsetMin: -new Date().getTimezoneOffset(),
      }),
    );
  boot(opened.state, pen.isHeld);
  try {
    await giveLines(program, begun ?? store.portions(), (share) => splash.reading(share));
  } catch (error) {
    if (error instanceof WebAssembly.RuntimeError) throw error;
    boot(answerOf(error), pen.isHeld);
    program.send('ready');
  }
  splash.end();
  if (!program.isWhole) {
    splash.promise();
    try {
      await program.complete();
    } catch (error) {
      if (error instanceof WebAssembly.RuntimeError) throw error;
      giveUp(say('page.no_program'));
      return;
    }
  }
  splash.keepPromise();
  void takeShares((name, text) => void program.send('file', name, text), announce);

  tabs.start();
  void tellDamage(program);
  addEventListener('online', () => program.send('online'));
  void tellStorage(program, false);
  void startServiceWorker({
    offlineReady: (ready) => program.send('offline_ready', ready ? 1 : 0),
    updateWaiting: () => program.send('update_waiting'),
  });
}

void start();
