/**
 * What "saved" means: the store, the witness and the pen in a real browser, through quota, a killed browser, a
 * wiped database and a second tab.
 */
import assert from 'node:assert/strict';
import {describe, test} from 'node:test';
import {KillableBrowser} from './harness.mjs';
import {useStorePage, withEntries} from './store-page.mjs';

const site = useStorePage();
const {blankPage} = site;

describe('the store', () => {
  test('says saved only when the strict transaction is complete', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const open = IDBDatabase.prototype.transaction;
      const asked = [];
      let completed = 0;
      IDBDatabase.prototype.transaction = function (names, mode, options) {
        const transaction = open.call(this, names, mode, options);
        if (mode === 'readwrite') {
          asked.push(options?.durability);
          transaction.addEventListener('complete', () => ++completed);
        }
        return transaction;
      };
      const store = new page.Store('tawny-own');
      const answer = await store.save([entry(1), entry(2)]);
      return {answer, asked, completed, lines: (await allLines(store)).length};
    });
    assert.deepEqual(seen, {answer: {outcome: 'saved', detail: ''}, asked: ['strict'], completed: 1, lines: 2});
  });

  test('writes nothing before the browser has had its time to begin a new log', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const done = [];
      const {deleteDatabase} = IDBFactory.prototype;
      IDBFactory.prototype.deleteDatabase = function (name) {
        const request = deleteDatabase.call(this, name);
        request.addEventListener('success', () => done.push(['deleted', performance.now()]));
        return request;
      };
      const {put} = IDBObjectStore.prototype;
      IDBObjectStore.prototype.put = function (...values) {
        done.push(['written', performance.now()]);
        return put.apply(this, values);
      };
      const store = new page.Store('tawny-own');
      const save = async (number) => {
        const log = page.beginNewLog();
        store.mayWrite = log.begun;
        await log.asked;
        await store.save([entry(number)]);
        return done.splice(0);
      };
      return {first: await save(1), second: await save(2), lines: (await allLines(store)).length};
    });
    assert.deepEqual(seen.first.map(([what]) => what), ['written'], 'where nothing is there is no log to lose');
    assert.deepEqual(seen.second.map(([what]) => what), ['deleted', 'written']);
    const [[, deleted], [, written]] = seen.second;
    // Chromium's new log was there 3 to 140 ms after the database was said to be deleted.
    assert.ok(written - deleted > 400, `${written - deleted} ms`);
    assert.equal(seen.lines, 2);
  });

  test('says failed, and keeps nothing, when the transaction aborts after its requests succeeded', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const put = IDBObjectStore.prototype.put;
      IDBObjectStore.prototype.put = function (...values) {
        const request = put.apply(this, values);
        request.addEventListener('success', () => this.transaction.abort());
        return request;
      };
      const commit = IDBTransaction.prototype.commit;
      IDBTransaction.prototype.commit = () => {};
      const store = new page.Store('tawny-own');
      const answer = await store.save([entry(1)]);
      IDBObjectStore.prototype.put = put;
      IDBTransaction.prototype.commit = commit;
      return {outcome: answer.outcome, lines: (await allLines(store)).length};
    });
    assert.deepEqual(seen, {outcome: 'failed', lines: 0});
  });

  test('keeps entries twice put once, and entries of the same number with another hash beside each other', async () => {
    const page = await blankPage();
    const lines = await page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      await store.save([entry(1), entry(2)]);
      await store.save([entry(2), entry(2, {hash: 'other'}), entry(1, {device: 'b2'})]);
      return allLines(store);
    });
    assert.equal(lines.length, 4);
  });

  test('gives back more lines than it reads at once, each once', async () => {
    const page = await blankPage();
    const count = await page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      await store.save(Array.from({length: 12_001}, (_, i) => entry(i + 1)));
      const lines = await allLines(store);
      return [lines.length, new Set(lines).size];
    });
    assert.deepEqual(count, [12_001, 12_001]);
  });

  test('says full when the room is used up, keeps what it had, and goes on when there is room again', async () => {
    // On a disk: the browser does not count what a private window keeps in memory.
    const killable = await KillableBrowser.start();
    try {
      const page = await killable.context.newPage();
      await page.goto(site.server.url);
      await withEntries(page);
      const devtools = await killable.context.newCDPSession(page);
      const origin = new URL(site.server.url).origin;
      await devtools.send('Storage.overrideQuotaForOrigin', {origin, quotaSize: 50_000});
      const {saved, answer} = await page.evaluate(async () => {
        globalThis.store = new page.Store('tawny-own');
        for (let number = 1; ; ++number) {
          const answer = await store.save([entry(number, {size: 5_000})]);
          if (answer.outcome !== 'saved' || number > 100) return {saved: number - 1, answer};
        }
      });
      assert.equal(answer.outcome, 'full', answer.detail);
      assert.match(answer.detail, /Quota/);
      assert.equal(await page.evaluate(async () => (await allLines(store)).length), saved);
      await devtools.send('Storage.overrideQuotaForOrigin', {origin});
      const later = await page.evaluate(async (number) => (await store.save([entry(number)])).outcome, saved + 1);
      assert.equal(later, 'saved');
    } finally {
      await killable.end();
    }
  });

  test('opens a lost connection again and saves', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      await store.save([entry(1)]);
      (await store.database()).close();
      return [(await store.save([entry(2)])).outcome, (await allLines(store)).length];
    });
    assert.deepEqual(seen, ['saved', 2]);
  });

  test('lets go of the database when a newer version wants it', async () => {
    const page = await blankPage();
    const upgraded = await page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      await store.save([entry(1)]);
      return new Promise((resolve) => {
        const request = indexedDB.open('tawny-own', 99);
        request.onsuccess = async () => resolve((await store.save([entry(2)])).outcome);
      });
    });
    assert.equal(upgraded, 'newer');
  });
});

describe('the witness', () => {
  test('stands in localStorage and in the Cache API after a save, and only then', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      const saver = new page.Saver({store, storeName: 'own', device: 'a1', witness: null});
      const before = await page.readWitness('own', 'a1');
      const {settled} = await saver.save([entry(1), entry(2), entry(9, {device: 'b2'})]);
      await settled;
      localStorage.removeItem('tawny.witness.own');
      const fromCache = await page.readWitness('own', 'a1');
      await (await saver.save([entry(3)])).settled;
      await caches.delete('tawny-witness');
      const fromLocal = await page.readWitness('own', 'a1');
      return {before, fromCache, fromLocal};
    });
    assert.deepEqual(seen, {
      before: null,
      fromCache: {device: 'a1', number: 2, hash: 'h2'},
      fromLocal: {device: 'a1', number: 3, hash: 'h3'},
    });
  });

  test('outlives a database that came back empty', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      const saver = new page.Saver({store, storeName: 'own', device: 'a1', witness: null});
      await (await saver.save([entry(1)])).settled;
      await store.destroy();
      return [await page.readWitness('own', undefined), (await allLines(store)).length];
    });
    assert.deepEqual(seen, [{device: 'a1', number: 1, hash: 'h1'}, 0]);
  });

  test('of two that differ, the one that has seen more counts; of two devices, the one that the store knows', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const put = async (device, number) => page.writeWitness('own', {device, number, hash: 'h'});
      await put('a1', 7);
      localStorage.setItem('tawny.witness.own', '{"device":"a1","number":5,"hash":"h"}');
      const more = (await page.readWitness('own', 'a1')).number;
      localStorage.setItem('tawny.witness.own', '{"device":"b2","number":1,"hash":"h"}');
      const known = (await page.readWitness('own', 'b2')).device;
      return [more, known, (await page.readWitness('own', 'a1')).device];
    });
    assert.deepEqual(seen, [7, 'b2', 'a1']);
  });

  test('never goes back, and is not moved by a save that failed', async () => {
    const page = await blankPage();
    const number = await page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      const witness = {device: 'a1', number: 5, hash: 'h5'};
      await page.writeWitness('own', witness);
      const saver = new page.Saver({store, storeName: 'own', device: 'a1', witness});
      await (await saver.save([entry(2)])).settled;
      store.save = async () => ({outcome: 'full', detail: ''});
      await (await saver.save([entry(6)])).settled;
      return (await page.readWitness('own', 'a1')).number;
    });
    assert.equal(number, 5);
  });
});

describe('the pen', () => {
  test('is held by one tab; the second gets none until the first is closed', async () => {
    const first = await blankPage();
    assert.equal(await first.evaluate(() => new page.Pen('own').take()), true);
    const second = await site.context.newPage();
    await second.goto(site.server.url);
    assert.equal(await second.evaluate(() => new page.Pen('own').take()), false);
    assert.equal(await second.evaluate(() => new page.Pen('demo').take()), true, 'each logbook has its own');
    await first.close();
    assert.equal(await second.evaluate(() => new page.Pen('own').take()), true);
  });

  test('is still there for a page that is loaded again', async () => {
    const page = await blankPage();
    assert.equal(await page.evaluate(() => new page.Pen('own').take()), true);
    await page.reload();
    assert.equal(await page.evaluate(() => new page.Pen('own').take()), true);
  });

  test('comes to a page that is alone, however late the browser answers', async () => {
    const page = await blankPage();
    const answer = await page.evaluate(async () => {
      const {request} = LockManager.prototype;
      const {setTimeout} = globalThis;
      let isLate = true;
      let waits = 0;
      // Three times the page's patience runs out before the browser has given the pen.
      globalThis.setTimeout = (act, wait, ...rest) => setTimeout(act, ++waits > 3 ? wait : 0, ...rest);
      LockManager.prototype.request = async function (name, ...rest) {
        while (name === 'tawny-writer-own' && waits < 4) await new Promise((next) => setTimeout(next));
        isLate = false;
        return request.call(this, name, ...rest);
      };
      return {taken: await new page.Pen('own').take(), isLate, waits};
    });
    assert.deepEqual(answer, {taken: true, isLate: false, waits: 4});
  });

  test('comes to a page that is alone and too busy to hear that it has it', async () => {
    const page = await blankPage();
    const taken = await page.evaluate(async () => {
      const pen = new page.Pen('own');
      const taking = pen.take();
      const until = performance.now() + 1500;
      while (performance.now() < until);
      return {taken: await taking, held: pen.isHeld};
    });
    assert.deepEqual(taken, {taken: true, held: true});
    const second = await site.context.newPage();
    await second.goto(site.server.url);
    assert.equal(await second.evaluate(() => new page.Pen('own').take()), false);
  });

  test('a reading tab hears that the logbook grew', async () => {
    const writer = await blankPage();
    const reader = await site.context.newPage();
    await reader.goto(site.server.url);
    await reader.evaluate(() => {
      globalThis.grown = new Promise((resolve) => page.listenForGrowth('own', () => resolve(true)));
    });
    await writer.evaluate(async () => {
      const store = new page.Store('tawny-own');
      const saver = new page.Saver({store, storeName: 'own', device: 'a1', witness: null});
      await (await saver.save([entry(1)])).settled;
    });
    assert.equal(await reader.evaluate(() => grown), true);
  });
});

test('the way from the program: one entry a line, tabs between, the JSON untouched', async () => {
  const page = await blankPage();
  const entries = await page.evaluate(() => page.parseEntries('a1\t12\thh\t{"note":"x\\ty"}\nb2\t1\tkk\t{}\n'));
  assert.deepEqual(entries, [
    {device: 'a1', number: 12, hash: 'hh', line: '{"note":"x\\ty"}'},
    {device: 'b2', number: 1, hash: 'kk', line: '{}'},
  ]);
});

test('without the promise of the browser to keep the logbook, the answer is no, and it is asked once', async () => {
  const page = await blankPage();
  const answers = await page.evaluate(async () => {
    let asked = 0;
    navigator.storage.persist = async () => (++asked, false);
    const words = [];
    for (const ask of [false, true, true]) words.push((await page.storageState(ask)).persisted);
    return {words, asked};
  });
  assert.deepEqual(answers, {words: ['unknown', 'no', 'no'], asked: 1});
});
