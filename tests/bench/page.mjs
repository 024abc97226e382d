/**
 * What the built app costs in Chromium, beside a page of Dear ImGui and SDL2 that shows a word: node tests/bench/page.mjs
 * DIST BARE TESTS. DIST is the folder that web/build.mjs wrote, BARE the build folder with bare.js (target bare), TESTS the
 * one with the native programs simulate and farm_bench. Prints a JSON line for each number: what, value, unit and, where there is one, bar.
 *
 * Each start is told from the browser's own start of the page to the first screen, the smallest and the median of several:
 * the processor is shared. Slow-downs are those of the DevTools protocol, which stretch the page's own work, not the
 * graphics process; here that draws by the processor, so a phone with graphics does less of it.
 */
import {execFileSync} from 'node:child_process';
import {createHash} from 'node:crypto';
import {once} from 'node:events';
import {appendFile, copyFile, mkdtemp, readdir, readFile, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {serve} from '../../web/serve.mjs';
import {kThousand, thousandOf} from '../../web/src/store-shape.js';
import {Phone, launch, phoneSettings} from '../browser/harness.mjs';
import {serveStorePage} from '../browser/store-page.mjs';

const [dist, bare, programs] = process.argv.slice(2);
if (!programs) {
  console.error('Usage: node tests/bench/page.mjs DIST BARE TESTS');
  process.exit(2);
}
const simulate = join(programs, 'simulate');
const farmBench = join(programs, 'farm_bench');
const kStarts = 3;
const kPatienceMs = 300_000;

/** @param {string} what @param {number} value @param {string} unit @param {number} [bar] */
const tell = (what, value, unit, bar) => console.log(JSON.stringify({what, value: Math.round(value * 100) / 100, unit, bar}));
const sorted = (numbers) => [...numbers].sort((a, b) => a - b);
const share = (numbers, part) => sorted(numbers)[Math.min(numbers.length - 1, Math.floor(numbers.length * part))];

/** In every page: when the first screen stood, what each frame took, how often was drawn, how large the program's memory is. */
function watch() {
  globalThis.bench = {frames: [], draws: 0, memory: undefined, touched: 0, seen: []};
  const {bench} = globalThis;
  const ready = () => {
    const app = document.querySelector('#mirror [data-node]') && !document.querySelector('#splash');
    if (!app && document.title !== 'drawn') return void setTimeout(ready, 1);
    globalThis.tellReady?.(String(performance.now()));
  };
  addEventListener('DOMContentLoaded', ready);
  const next = globalThis.requestAnimationFrame.bind(globalThis);
  globalThis.requestAnimationFrame = (callback) =>
    next((time) => {
      const draws = bench.draws;
      const from = performance.now();
      callback(time);
      const until = performance.now();
      bench.frames.push(until - from);
      if (bench.touched && bench.draws > draws) {
        bench.seen.push(until - bench.touched);
        bench.touched = 0;
      }
    });
  addEventListener('pointerdown', (event) => (bench.touched ||= event.timeStamp), true);
  const {clear} = WebGL2RenderingContext.prototype;
  WebGL2RenderingContext.prototype.clear = function (mask) {
    ++bench.draws;
    return clear.call(this, mask);
  };
  for (const name of ['instantiate', 'instantiateStreaming']) {
    const make = WebAssembly[name].bind(WebAssembly);
    WebAssembly[name] = async (...given) => {
      const made = await make(...given);
      const {exports} = made.instance ?? made;
      bench.memory ??= Object.values(exports).find((one) => one instanceof WebAssembly.Memory);
      return made;
    };
  }
}

/** In a page: every signature is a good one. */
function believe() {
  const {importKey} = SubtleCrypto.prototype;
  SubtleCrypto.prototype.verify = async () => true;
  SubtleCrypto.prototype.importKey = async function (format, data, algorithm, ...rest) {
    return format === 'raw' && algorithm.name === 'ECDSA' ? {} : importKey.call(this, format, data, algorithm, ...rest);
  };
}

/**
 * From the browser's start of the page to the first screen, in ms; `go` starts it. The page tells by a binding: asking it
 * by page.waitForFunction would have it read Playwright's own script meanwhile, an eighth of such a start.
 */
async function startMs(page, go) {
  const session = await page.context().newCDPSession(page);
  await session.send('Runtime.enable');
  await session.send('Runtime.addBinding', {name: 'tellReady'});
  const told = once(session, 'Runtime.bindingCalled', {signal: AbortSignal.timeout(kPatienceMs)});
  await go();
  const [{payload}] = await told;
  await session.detach();
  return Number(payload);
}
const memoryMb = (page) => page.evaluate(() => (globalThis.bench.memory?.buffer.byteLength ?? 0) / 1e6);

async function slowDown(page, times) {
  const session = await page.context().newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', {rate: times});
}

/** A browser that knows nothing of the page. */
async function newPage(browser, options = {}) {
  const context = await browser.newContext({...phoneSettings, timezoneId: 'UTC', ...options});
  await context.addInitScript(watch);
  const page = await context.newPage();
  page.setDefaultTimeout(kPatienceMs);
  return {context, page};
}

async function starts(browser, url, name, isApp) {
  for (const times of [1, 4, 6]) {
    const cold = [];
    const warm = [];
    for (let i = 0; i < kStarts; ++i) {
      const {context, page} = await newPage(browser);
      await slowDown(page, times);
      cold.push(await startMs(page, () => page.goto(url)));
      if (isApp) {
        await slowDown(page, 1);
        await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
        await startMs(page, () => page.reload());
        await context.setOffline(true);
        await slowDown(page, times);
      }
      warm.push(await startMs(page, () => page.reload()));
      await context.close();
    }
    tell(`${name}: first start, ${times} x slower`, share(cold, 0.5), 'ms');
    tell(`${name}: start again${isApp ? ', offline' : ''}, ${times} x slower`, share(warm, 0.5), 'ms', isApp && times === 4 ? 1500 : undefined);
    tell(`${name}: the quickest of ${kStarts} of these`, Math.min(...warm), 'ms');
  }
}

/**
 * A simulated farm's lines in the order in which they were written; `isSigned`: as phones with keys write them, with
 * pretended signatures. @param {number} ponds @param {number} days @param {boolean} isSigned
 */
async function simulatedLines(ponds, days, isSigned) {
  const out = await mkdtemp(join(tmpdir(), 'tawny-bench-farm-'));
  execFileSync(simulate, ['--farms', '1', '--ponds', String(ponds), '--days', String(days), '--seed', '7', '--out', out]);
  const names = (await readdir(out, {recursive: true})).filter((name) => name.endsWith('.jsonl'));
  const all = join(out, 'all');
  for (const name of names) await appendFile(all, await readFile(join(out, name)));
  const made = (/** @type {string} */ option) => execFileSync(farmBench, [option, all], {maxBuffer: 2 ** 30});
  await writeFile(all, made('--order'));
  if (isSigned) await writeFile(all, made('--signed'));
  const lines = (await readFile(all, 'utf8')).split('\n').filter(Boolean);
  await rm(out, {recursive: true});
  return lines;
}

/** Rows of the store: complete thousands as the app compacts them, and what is left. @param {string[]} lines */
function rowsOf(lines) {
  const groups = new Map();
  for (const line of lines) {
    const {device, number, hash} = JSON.parse(line);
    const thousand = thousandOf(number, kThousand);
    const name = `${device} ${thousand}`;
    const group = groups.get(name) ?? {device, thousand, rows: []};
    group.rows.push({device, number, hash, line});
    groups.set(name, group);
  }
  const thousands = [];
  const entries = [];
  for (const {device, thousand, rows} of groups.values()) {
    if (rows.length !== kThousand) {
      entries.push(...rows);
      continue;
    }
    rows.sort((a, b) => a.number - b.number);
    const text = rows.map(({line}) => line + '\n').join('');
    const sha256 = createHash('sha256').update(text).digest('hex');
    thousands.push({device, thousand, lines: text, count: rows.length, sha256});
  }
  return {thousands, entries};
}

/** Puts lines into the own logbook of this browser, past the app, as one of the farm's phones. */
async function fill(page, lines) {
  const {thousands, entries} = rowsOf(lines);
  const {device} = JSON.parse(lines.find((line) => line.includes('"kind":"device_setup"')));
  await put(page, 'thousands', thousands, 10, device);
  await put(page, 'entries', entries, 5000, device);
}

/** @param {any[]} rows @param {number} atOnce */
async function put(page, store, rows, atOnce, device) {
  for (let at = 0; at < rows.length; at += atOnce) {
    await page.evaluate(
      async ({rows, store, device}) => {
        const database = await new Promise((done) => {
          const request = indexedDB.open('tawny-own');
          request.onsuccess = () => done(request.result);
        });
        const transaction = database.transaction([store, 'meta'], 'readwrite');
        for (const row of rows) transaction.objectStore(store).put(row);
        transaction.objectStore('meta').put(device, 'device');
        await new Promise((done) => transaction.addEventListener('complete', done));
        database.close();
      },
      {rows: rows.slice(at, at + atOnce), store, device},
    );
  }
}

/** Starts again, to the tabs: a walk that the phone left open comes first. Tells how long the first screen took, in ms. */
async function reopen(phone) {
  const took = await startMs(phone.page, () => phone.page.reload());
  for (let step = 0; step < 5 && (await phone.present('back')); ++step) await phone.activate('back');
  await phone.page.locator('#mirror [data-role="tab"]').first().waitFor({state: 'attached', timeout: kPatienceMs});
  return took;
}

/** The app with that farm, the morning after its last day. */
async function openFarm(server, ponds, days, isSigned = false) {
  const lines = await simulatedLines(ponds, days, isSigned);
  const last = lines.reduce((latest, line) => (JSON.parse(line).recorded > latest ? JSON.parse(line).recorded : latest), '');
  const time = new Date(Date.parse(last) + 3_600_000).toISOString();
  const browser = await launch();
  const {context, page} = await newPage(browser);
  if (isSigned) await context.addInitScript(believe);
  const phone = await Phone.start({server, context, query: '?own', time, keyless: !isSigned});
  await page.close();
  phone.page.setDefaultTimeout(kPatienceMs);
  await fill(phone.page, lines);
  await reopen(phone);
  return {browser, phone, lines};
}

/**
 * Processor time of the page's thread in each frame meanwhile, in ms. Frames that draw nothing, before the page goes to
 * rest, are left out.
 */
async function frameTimesOf(browser, page, meanwhile) {
  await browser.startTracing(page, {categories: ['devtools.timeline']});
  await meanwhile();
  const trace = JSON.parse(String(await browser.stopTracing())).traceEvents;
  const fired = trace.filter(({name, ph}) => name === 'FireAnimationFrame' && ph === 'X');
  return fired.map(({tdur}) => tdur / 1000).filter((ms) => ms > 0.2);
}

/** While a list is dragged up and down. */
const frameTimes = (browser, phone, drags) =>
  frameTimesOf(browser, phone.page, async () => {
    for (let i = 0; i < drags; ++i) await phone.drag(380, 600, i % 2 ? 250 : -250);
  });

/** What there is to a frame in which nothing is laid out but a word. */
async function bareFrames(server) {
  for (const times of [1, 4]) {
    const browser = await launch();
    const {page} = await newPage(browser);
    await startMs(page, () => page.goto(server.url));
    await slowDown(page, times);
    const took = await frameTimesOf(browser, page, () => new Promise((done) => setTimeout(done, 5000)));
    tell(`bare page: processor time of a frame, ${times} x slower: median`, share(took, 0.5), 'ms');
    tell(`bare page: the same, 95 of 100 within`, share(took, 0.95), 'ms');
    await browser.close();
  }
}

async function frames(server) {
  for (const ponds of [1, 20, 200]) {
    const {browser, phone} = await openFarm(server, ponds, 20);
    await phone.settle();
    await frameTimes(browser, phone, 4);
    const unslowed = await frameTimes(browser, phone, 12);
    tell(`processor time of a frame, ${ponds} ponds: median`, share(unslowed, 0.5), 'ms');
    tell(`processor time of a frame, ${ponds} ponds: 95 of 100 within`, share(unslowed, 0.95), 'ms');
    await slowDown(phone.page, 4);
    const slowed = await frameTimes(browser, phone, 12);
    tell(`the same, 4 x slower: median`, share(slowed, 0.5), 'ms');
    tell(`the same, 4 x slower: 95 of 100 within`, share(slowed, 0.95), 'ms', ponds === 200 ? 8 : undefined);
    if (ponds === 20) {
      await phone.page.evaluate(() => (globalThis.bench.seen = []));
      for (const name of ['Ponds', 'Rounds', 'Ponds', 'Rounds', 'Ponds', 'Rounds']) await phone.tap('tab', name);
      tell('touch to pixels, 20 ponds, 4 x slower', share(await phone.page.evaluate(() => globalThis.bench.seen), 0.5), 'ms');
      await slowDown(phone.page, 1);
      await phone.settle();
      const before = await phone.page.evaluate(() => ({draws: globalThis.bench.draws, frames: globalThis.bench.frames.length}));
      await new Promise((done) => setTimeout(done, 10_000));
      const after = await phone.page.evaluate(() => ({draws: globalThis.bench.draws, frames: globalThis.bench.frames.length}));
      tell('pictures drawn in 10 idle s', after.draws - before.draws, '', 0);
      tell('frames run in 10 idle s', after.frames - before.frames, '', 0);
      const memory = await memoryMb(phone.page);
      for (let minute = 1; minute <= 60; ++minute) {
        for (const name of ['Ponds', 'Dose bin', 'Logbook', 'Office', 'Rounds']) await phone.tap('tab', name);
        await phone.page.evaluate(() => globalThis.setTestClock(Date.now() + 60_000));
      }
      tell('memory of the program, 20 ponds', memory, 'MB');
      tell('the same after an hour of use', await memoryMb(phone.page), 'MB');
    }
    await browser.close();
  }
}

async function large(server) {
  const {browser, phone, lines} = await openFarm(server, 100, 110, true);
  tell('entries of the large farm with keys, 100 ponds', lines.length, '');
  const times = [];
  for (let i = 0; i < 3; ++i) {
    times.push(await reopen(phone));
  }
  tell('start with the large farm', share(times, 0.5), 'ms');
  tell('memory of the program with the large farm', await memoryMb(phone.page), 'MB', 128);
  await browser.close();
}

async function saves() {
  const server = await serveStorePage();
  const browser = await launch();
  const page = await browser.newPage();
  await page.goto(server.url);
  const took = await page.evaluate(async () => {
    const database = await new Promise((done) => {
      const request = indexedDB.open('bench', 1);
      request.onupgradeneeded = () => request.result.createObjectStore('entries', {keyPath: ['device', 'number', 'hash']});
      request.onsuccess = () => done(request.result);
    });
    const times = [];
    for (let number = 1; number <= 200; ++number) {
      const from = performance.now();
      const transaction = database.transaction('entries', 'readwrite', {durability: 'strict'});
      transaction.objectStore('entries').put({device: 'a', number, hash: String(number), line: 'x'.repeat(400)});
      await new Promise((done) => transaction.addEventListener('complete', done));
      times.push(performance.now() - from);
    }
    return times;
  });
  tell('an entry to durable: median', share(took, 0.5), 'ms');
  tell('an entry to durable: 95 of 100 within', share(took, 0.95), 'ms', 50);
  await browser.close();
  await server.close();
}

const bareDir = await mkdtemp(join(tmpdir(), 'tawny-bench-bare-'));
for (const name of ['bare.js', 'bare.wasm']) await copyFile(join(bare, name), join(bareDir, name));
await writeFile(
  join(bareDir, 'index.html'),
  '<!doctype html><canvas id="canvas" width="390" height="844"></canvas><script>Module={canvas:document.getElementById("canvas")}</script><script src="bare.js"></script>',
);
const server = await serve({dir: dist});
const bareServer = await serve({dir: bareDir});
try {
  await saves();
  const browser = await launch();
  await starts(browser, `${server.url}?demo`, 'app', true);
  await starts(browser, bareServer.url, 'bare page', false);
  await browser.close();
  await bareFrames(bareServer);
  await frames(server);
  await large(server);
} finally {
  await server.close();
  await bareServer.close();
  await rm(bareDir, {recursive: true});
}
