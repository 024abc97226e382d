/**
 * Chromium killed with SIGKILL at random moments of writing and of compaction: what was said to be saved is there
 * afterwards, what was saved together is there together, and the store opens.
 *
 * TAWNY_KILLS is how often (40), TAWNY_SEED the seed of the first run. What is printed at the end goes into README.
 */
import assert from 'node:assert/strict';
import {spawnSync} from 'node:child_process';
import {appendFile, mkdtemp, readFile, readdir, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {KillableBrowser} from './harness.mjs';
import {serveStorePage, withEntries} from './store-page.mjs';

const kRuns = Number(process.env.TAWNY_KILLS ?? 40);
const kFirstSeed = Number(process.env.TAWNY_SEED ?? Date.now() % 1_000_000);
// Then a new profile is begun.
const kRunsOfAProfile = 20;
const kUnit = 20;

let server;
before(async () => {
  server = await serveStorePage();
});
after(() => server.close());

/** mulberry32 by its published constants: a generator of 32 bits. @param {number} seed */
function randomFrom(seed) {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let bits = Math.imul(state ^ (state >>> 15), state | 1);
    bits ^= bits + Math.imul(bits ^ (bits >>> 7), bits | 61);
    return ((bits ^ (bits >>> 14)) >>> 0) / 2 ** 32;
  };
}

async function openPage(killable) {
  const page = await killable.context.newPage();
  await page.goto(server.url);
  await withEntries(page);
  return page;
}

/** What is in the store, and what is wrong with it. */
function look(page) {
  return page.evaluate(async (unit) => {
    const log = page.beginNewLog();
    await log.asked;
    globalThis.store = new page.Store('tawny-own', {unit});
    store.mayWrite = log.begun;
    const lines = (await allLines(store)).map((line) => JSON.parse(line));
    const there = new Set(lines.map(({number}) => number));
    const torn = lines.filter(({first, size}) =>
      Array.from({length: size}, (_, i) => first + i).some((number) => !there.has(number)),
    );
    return {
      last: Math.max(0, ...there),
      gaps: Math.max(0, ...there) - there.size,
      doubles: lines.length - there.size,
      torn: torn.length,
      damaged: store.findings.length,
      thousands: await counted(store, 'thousands'),
      witness: (await page.readWitness('own', 'a1'))?.number ?? 0,
    };
  }, kUnit);
}

/** Writes until the browser is gone; half of the runs begin with much to compact. */
function write(page, {first, backlog, sizes}) {
  return page.evaluate(
    async ({first, backlog, sizes}) => {
      const saver = new page.Saver({store, storeName: 'own', device: 'a1', witness: await page.readWitness('own', 'a1')});
      const compactor = new page.Compactor(store, {quiet: () => new Promise((resolve) => setTimeout(resolve))});
      // Saves follow each other without a rest here, so it is not to wait for one.
      compactor.saves = () => Promise.resolve();
      const group = (start, size) =>
        Array.from({length: size}, (_, i) => {
          const number = start + i;
          const line = `{"device":"a1","number":${number},"first":${start},"size":${size},"hash":"h${number}"}`;
          return {device: 'a1', number, hash: `h${number}`, line};
        });
      let number = first;
      const save = async (size) => {
        const entries = group(number, size);
        const {outcome} = await saver.save(entries);
        if (outcome !== 'saved') throw new Error(outcome);
        number += size;
        globalThis.acknowledge(number - 1);
        return entries;
      };
      if (backlog > 0) await save(backlog);
      compactor.start();
      for (let turn = 0; ; ++turn) compactor.saved(await save(sizes[turn % sizes.length]));
    },
    {first, backlog, sizes},
  );
}

describe('a browser killed at a random moment', () => {
  test(`loses nothing that was said to be saved, in ${kRuns} runs`, {timeout: 60_000 + kRuns * 20_000}, async (t) => {
    const figures = {runs: 0, acknowledged: 0, lost: 0, unopened: 0, torn: 0, thousands: 0};
    let killable;
    let acknowledged = 0;
    let compacted = 0;
    /** The store as the kill left it. @param {string} seed */
    const check = async (page, seed) => {
      let seen;
      try {
        seen = await look(page);
      } catch (error) {
        figures.unopened += 1;
        throw new Error(`${seed}: the store does not open`, {cause: error});
      }
      figures.lost += Math.max(0, acknowledged - seen.last) + seen.gaps;
      figures.torn += seen.torn;
      figures.thousands += seen.thousands - compacted;
      compacted = seen.thousands;
      assert.ok(seen.last >= acknowledged, `${seed}: ${acknowledged} said to be saved, ${seen.last} there`);
      assert.ok(seen.witness <= seen.last, `${seed}: the witness says ${seen.witness}, ${seen.last} are there`);
      const {gaps, doubles, torn, damaged} = seen;
      assert.deepEqual({gaps, doubles, torn, damaged}, {gaps: 0, doubles: 0, torn: 0, damaged: 0}, seed);
      return seen.last;
    };
    try {
      for (let run = 0; run < kRuns; ++run) {
        const seed = `seed ${kFirstSeed + run}`;
        const random = randomFrom(kFirstSeed + run);
        if (run % kRunsOfAProfile === 0) {
          await killable?.end();
          killable = undefined;
          acknowledged = compacted = 0;
        }
        killable = await KillableBrowser.start({profile: killable?.profile});
        const page = await openPage(killable);
        const last = await check(page, seed);
        const before = last;
        acknowledged = last;
        let begin;
        const begun = new Promise((resolve) => {
          begin = resolve;
        });
        await page.exposeFunction('acknowledge', (number) => {
          acknowledged = Math.max(acknowledged, number);
          begin();
        });
        const backlog = run % 2 === 1 ? Math.floor(random() * 400) : 0;
        const sizes = Array.from({length: 16}, () => (random() < 0.8 ? 1 : 1 + Math.floor(random() * 5)));
        write(page, {first: last + 1, backlog, sizes}).catch(() => {});
        await begun;
        await new Promise((resolve) => setTimeout(resolve, random() * 400));
        await killable.kill();
        figures.runs += 1;
        figures.acknowledged += acknowledged - before;
      }
      killable = await KillableBrowser.start({profile: killable?.profile});
      await check(await openPage(killable), 'the last one');
    } finally {
      await killable?.end();
      t.diagnostic(`from seed ${kFirstSeed}: ${JSON.stringify(figures)}`);
    }
    assert.ok(figures.acknowledged > kRuns && figures.thousands > 0, 'there was something to lose');
  });
});

test('a record that a kill cut off in the browser\'s own log costs nothing at the start after the next', {timeout: 60_000}, async () => {
  let killable = await KillableBrowser.start();
  try {
    const start = async () => {
      const page = await openPage(killable);
      await look(page);
      return page;
    };
    const save = (page, first) =>
      page.evaluate(async (number) => (await store.save([entry(number), entry(number + 1)])).outcome, first);
    assert.equal(await save(await start(), 1), 'saved');
    let profile = await killable.kill();
    const logs = (await readdir(profile, {recursive: true})).filter((name) => /IndexedDB.*leveldb\/\d+\.log$/.test(name));
    assert.equal(logs.length, 1);
    // LevelDB's header of a record, checksum, length and kind, without the 335 bytes that it promises.
    await appendFile(join(profile, logs[0]), Buffer.from([1, 2, 3, 4, 335 & 255, 335 >> 8, 1]));
    killable = await KillableBrowser.start({profile});
    assert.equal(await save(await start(), 3), 'saved');
    profile = await killable.kill();
    killable = await KillableBrowser.start({profile});
    const {last, gaps} = await look(await openPage(killable));
    assert.deepEqual({last, gaps}, {last: 4, gaps: 0});
  } finally {
    await killable.end();
  }
});

describe('the medium', () => {
  const hasStrace = spawnSync('strace', ['-V']).status === 0;

  test('is flushed at least once for each saved entry', {skip: hasStrace ? false : 'strace is not here', timeout: 120_000}, async () => {
    const folder = await mkdtemp(join(tmpdir(), 'tawny-strace-'));
    const kEntries = 50;
    const flushes = async () => {
      let count = 0;
      for (const file of await readdir(folder)) {
        const text = await readFile(join(folder, file), 'utf8');
        count += text.match(/f(data)?sync\(\d+<[^>]*IndexedDB[^>]*>/g)?.length ?? 0;
      }
      return count;
    };
    const trace = ['strace', '-ff', '-y', '--seccomp-bpf', '-e', 'trace=fdatasync,fsync', '-o', join(folder, 'trace')];
    const killable = await KillableBrowser.start({under: trace});
    try {
      const page = await openPage(killable);
      await page.evaluate(async () => {
        globalThis.store = new page.Store('tawny-own');
        await store.count();
      });
      const before = await flushes();
      const saved = await page.evaluate(async (entries) => {
        let saved = 0;
        for (let number = 1; number <= entries; ++number) {
          if ((await store.save([entry(number)])).outcome === 'saved') ++saved;
        }
        return saved;
      }, kEntries);
      assert.equal(saved, kEntries);
      const made = (await flushes()) - before;
      assert.ok(made >= kEntries, `${made} flushes for ${kEntries} saved entries`);
    } finally {
      await killable.end();
      await rm(folder, {recursive: true, force: true});
    }
  });
});
