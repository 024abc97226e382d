/**
 * Complete thousands become one record each, and nothing else changes: the same lines come back, through doubles,
 * conflicts, a full disk, another tab that reads meanwhile, databases of an older version and damaged records.
 */
import assert from 'node:assert/strict';
import {describe, test} from 'node:test';
import {KillableBrowser} from './harness.mjs';
import {useStorePage, withEntries} from './store-page.mjs';

const site = useStorePage();
const {blankPage} = site;

describe('compaction', () => {
  test('puts a complete thousand into one record by one strict transaction; the lines are the same', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      await store.save([...upTo(1003), entry(7, {hash: 'other'}), entry(1, {device: 'b2'})]);
      const before = (await allLines(store)).sort();
      const asked = [];
      const open = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = function (names, mode, options) {
        if (mode === 'readwrite') asked.push([[...names].sort(), options.durability]);
        return open.call(this, names, mode, options);
      };
      const ripe = await page.ripeThousands(store);
      const changed = await page.compact(store, 'a1', 0);
      const record = await store.thousand('a1', 0);
      return {
        ripe,
        changed,
        asked,
        same: JSON.stringify((await allLines(store)).sort()) === JSON.stringify(before),
        count: await store.count(),
        tail: await counted(store, 'entries'),
        record: {...record, lines: record.lines.split('\n').length, whole: await page.isThousand(record)},
        again: await page.compact(store, 'a1', 0),
      };
    });
    const {sha256, ...record} = seen.record;
    assert.match(sha256, /^[0-9a-f]{64}$/);
    assert.deepEqual(
      {...seen, record},
      {
        ripe: [['a1', 0]],
        changed: true,
        asked: [[['entries', 'thousands'], 'strict']],
        same: true,
        count: 1005,
        tail: 4,
        record: {device: 'a1', thousand: 0, lines: 1002, count: 1001, whole: true},
        again: false,
      },
    );
  });

  test('leaves a thousand with a gap alone, though a doubled number makes it a thousand entries', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own', {unit: 10});
      await store.save([...upTo(10).filter(({number}) => number !== 4), entry(5, {hash: 'other'})]);
      return [await page.ripeThousands(store), await page.compact(store, 'a1', 0), await counted(store, 'entries')];
    });
    assert.deepEqual(seen, [[], false, 10]);
  });

  test('takes doubles out of the tail, and keeps there another entry of a compacted number', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own', {unit: 10});
      await store.save(upTo(10));
      const first = await allLines(store);
      await page.compact(store, 'a1', 0);
      const double = JSON.parse(first[2]);
      await store.save([{...double, line: first[2]}, entry(3, {hash: 'other'})]);
      const before = await counted(store, 'entries');
      const ripe = await page.ripeThousands(store);
      const changed = await page.compact(store, 'a1', 0);
      return {before, ripe, changed, after: await counted(store, 'entries'), lines: (await allLines(store)).length};
    });
    assert.deepEqual(seen, {before: 2, ripe: [['a1', 0]], changed: true, after: 1, lines: 11});
  });

  test('runs by itself after the save that completes a thousand, and at start for what was left', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own', {unit: 10});
      await store.save(upTo(29));
      const compactor = new page.Compactor(store, {quiet: async () => {}});
      compactor.start();
      await compactor.work;
      const atStart = [await counted(store, 'thousands'), await counted(store, 'entries')];
      await store.save([entry(30)]);
      compactor.saved([entry(30)]);
      await compactor.work;
      const afterSave = [await counted(store, 'thousands'), await counted(store, 'entries')];
      compactor.stop();
      await store.save(upTo(40).slice(30));
      compactor.saved(upTo(40).slice(30));
      await compactor.work;
      return {atStart, afterSave, withoutPen: await counted(store, 'thousands'), numbers: (await numbers(store)).length};
    });
    assert.deepEqual(seen, {atStart: [2, 9], afterSave: [3, 0], withoutPen: 3, numbers: 40});
  });

  test('waits for a save that is under way', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own', {unit: 10});
      await store.save(upTo(10));
      const compactor = new page.Compactor(store, {quiet: async () => {}});
      let finish;
      compactor.saves = () => new Promise((resolve) => (finish = resolve));
      compactor.start();
      while (!finish) await new Promise((resolve) => setTimeout(resolve));
      const during = await counted(store, 'thousands');
      finish();
      await compactor.work;
      return [during, await counted(store, 'thousands')];
    });
    assert.deepEqual(seen, [0, 1]);
  });

  test('a tab that reads while another compacts gets every line', async () => {
    const page = await blankPage();
    const missing = await page.evaluate(async () => {
      const writer = new page.Store('tawny-own', {unit: 10});
      const reader = new page.Store('tawny-own', {unit: 10});
      await writer.save(upTo(100));
      // Compacts everything between the reader's look at the thousands and its look at the tail.
      const readSome = reader.readSome.bind(reader);
      let compacted = false;
      reader.readSome = async (from, ...rest) => {
        if (from === 'entries' && !compacted) {
          compacted = true;
          for (const ripe of await page.ripeThousands(writer)) await page.compact(writer, ...ripe);
        }
        return readSome(from, ...rest);
      };
      return 100 - (await numbers(reader)).length;
    });
    assert.equal(missing, 0);
  });

  test('without room it fails quietly; nothing is lost, and it is done when there is room again', async () => {
    // On a disk: the browser does not count what a private window keeps in memory.
    const killable = await KillableBrowser.start();
    try {
      const page = await killable.context.newPage();
      await page.goto(site.server.url);
      await withEntries(page);
      const devtools = await killable.context.newCDPSession(page);
      const origin = new URL(site.server.url).origin;
      await devtools.send('Storage.overrideQuotaForOrigin', {origin, quotaSize: 80_000});
      const full = await page.evaluate(async () => {
        globalThis.store = new page.Store('tawny-own', {unit: 20});
        let saved = 0;
        while ((await store.save([entry(saved + 1, {size: 1000})])).outcome === 'saved') ++saved;
        const error = await page.compact(store, 'a1', 0).catch(({name}) => name);
        const compactor = new page.Compactor(store, {quiet: async () => {}});
        compactor.start();
        await compactor.work;
        const lost = saved - (await numbers(store)).length;
        return {error, thousands: await counted(store, 'thousands'), enough: saved >= 20, lost};
      });
      assert.deepEqual(full, {error: 'QuotaExceededError', thousands: 0, enough: true, lost: 0});
      await devtools.send('Storage.overrideQuotaForOrigin', {origin});
      const later = await page.evaluate(async () => {
        const saved = (await numbers(store)).length;
        return [await page.compact(store, 'a1', 0), saved - (await numbers(store)).length];
      });
      assert.deepEqual(later, [true, 0]);
    } finally {
      await killable.end();
    }
  });
});

describe('a damaged record', () => {
  test('of a thousand is set aside with what it held; its readable lines stay, and the rest is missing until brought in', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own', {unit: 10});
      const entries = [];
      for (let number = 1; number <= 30; ++number) entries.push(await hashed(number));
      await store.save(entries);
      for (const thousand of [0, 1, 2]) await page.compact(store, 'a1', thousand);
      const record = await store.thousand('a1', 1);
      const damaged = {...record, lines: record.lines.replace('"number":14,', '"number":94,').slice(0, -100)};
      await store.change(['thousands'], (transaction) => [transaction.objectStore('thousands').put(damaged)]);

      const steps = [];
      const step = async () => {
        const there = await numbers(store);
        await page.setAside(store, store.findings);
        const report = await page.damageReport(store, store.findings);
        steps.push({there: there.length, report});
      };
      await step();
      const [kept] = await store.allDamaged();
      await step();
      await store.save([entries[13]]);
      await step();
      await store.save([entries[19]]);
      await step();
      await page.compact(store, 'a1', 1);
      await step();
      return {
        steps,
        kept: {from: kept.from, key: kept.key, held: kept.held, missing: kept.missing},
        asItWas: kept.record.lines === damaged.lines,
        damaged: (await store.allDamaged()).length,
        thousands: await counted(store, 'thousands'),
      };
    });
    assert.deepEqual(seen, {
      steps: [
        {there: 28, report: {records: 1, held: 10, missing: 2}},
        {there: 28, report: {records: 1, held: 10, missing: 2}},
        {there: 29, report: {records: 1, held: 10, missing: 1}},
        {there: 30, report: {records: 0, held: 0, missing: 0}},
        {there: 30, report: {records: 0, held: 0, missing: 0}},
      ],
      kept: {from: 'thousands', key: ['a1', 1], held: 10, missing: [14, 20]},
      asItWas: true,
      damaged: 1,
      thousands: 3,
    });
  });

  test('that is whole in all its lines is reported once, and they stay', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own', {unit: 10});
      const entries = [];
      for (let number = 1; number <= 10; ++number) entries.push(await hashed(number));
      await store.save(entries);
      await page.compact(store, 'a1', 0);
      const record = await store.thousand('a1', 0);
      await store.change(['thousands'], (transaction) => [
        transaction.objectStore('thousands').put({...record, sha256: '0'.repeat(64)}),
      ]);
      const reports = [];
      for (let start = 0; start < 2; ++start) {
        const there = (await numbers(store)).length;
        await page.setAside(store, store.findings);
        reports.push([there, await page.damageReport(store, store.findings)]);
      }
      return reports;
    });
    assert.deepEqual(seen, [
      [10, {records: 1, held: 10, missing: 0}],
      [10, {records: 0, held: 0, missing: 0}],
    ]);
  });

  test('of another shape, or an entry of another shape, does not keep the rest from loading', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own', {unit: 10});
      await store.save(upTo(5));
      await store.change(['entries', 'thousands'], (transaction) => [
        transaction.objectStore('entries').put({device: 'a1', number: 3, hash: 'h3', line: 12}),
        transaction.objectStore('entries').put({device: 'a1', number: 'x', hash: 'h', line: '{}'}),
        transaction.objectStore('thousands').put({device: 'a1', thousand: 4, lines: {}, count: 7}),
        transaction.objectStore('thousands').put({device: 'a1', thousand: 5}),
      ]);
      const there = await numbers(store);
      await page.setAside(store, store.findings);
      const report = await page.damageReport(store, store.findings);
      return {there, report, again: await numbers(store), findings: store.findings.length, kept: await counted(store, 'damaged')};
    });
    assert.deepEqual(seen, {
      there: [1, 2, 4, 5],
      report: {records: 4, held: 19, missing: 22},
      again: [1, 2, 4, 5],
      findings: 0,
      kept: 4,
    });
  });

  test('that the browser cannot read stays where it is and is named once; the rest loads', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own', {unit: 10});
      await store.save(upTo(30));
      for (const thousand of [0, 1, 2]) await page.compact(store, 'a1', thousand);
      const {getAll, get} = IDBObjectStore.prototype;
      const refuse = () => {
        throw new DOMException('Failed to read large IndexedDB value', 'DataError');
      };
      IDBObjectStore.prototype.getAll = function (...values) {
        return this.name === 'thousands' ? refuse() : getAll.apply(this, values);
      };
      IDBObjectStore.prototype.get = function (key) {
        return this.name === 'thousands' && key[1] === 1 ? refuse() : get.call(this, key);
      };
      const reports = [];
      for (let start = 0; start < 2; ++start) {
        const there = (await numbers(store)).length;
        await page.setAside(store, store.findings);
        reports.push([there, await page.damageReport(store, store.findings)]);
      }
      Object.assign(IDBObjectStore.prototype, {getAll, get});
      return {reports, kept: await counted(store, 'damaged'), later: (await numbers(store)).length};
    });
    const report = {records: 1, held: 10, missing: 10};
    assert.deepEqual(seen, {reports: [[20, report], [20, report]], kept: 1, later: 30});
  });

  test('is read, but not moved, by a tab without the pen', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      const store = new page.Store('tawny-own', {unit: 10});
      await store.save(upTo(3));
      await store.change(['entries'], (transaction) => [
        transaction.objectStore('entries').put({device: 'a1', number: 2, hash: 'h2', line: null}),
      ]);
      await allLines(store);
      const report = await page.damageReport(store, store.findings);
      return [report, await counted(store, 'entries'), await counted(store, 'damaged')];
    });
    assert.deepEqual(seen, [{records: 1, held: 1, missing: 0}, 3, 0]);
  });
});

describe('a database of an older version', () => {
  /** The schema of version 1 as it was, for good: what stands here is on phones. */
  const makeVersion1 = (page, last) =>
    page.evaluate(async (count) => {
      const answer = (request) =>
        new Promise((resolve, reject) => {
          request.onsuccess = () => resolve(request.result);
          request.onerror = () => reject(request.error);
        });
      const opening = indexedDB.open('tawny-own', 1);
      opening.onupgradeneeded = () => {
        opening.result.createObjectStore('entries', {keyPath: ['device', 'number', 'hash']});
        opening.result.createObjectStore('meta');
      };
      const database = await answer(opening);
      const transaction = database.transaction(['entries', 'meta'], 'readwrite', {durability: 'strict'});
      transaction.objectStore('meta').put('a1', 'device');
      for (const record of upTo(count)) transaction.objectStore('entries').put(record);
      await new Promise((resolve) => (transaction.oncomplete = resolve));
      database.close();
    }, last);

  const look = (page) =>
    page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      const there = await numbers(store);
      return {
        version: (await store.database()).version,
        stores: [...(await store.database()).objectStoreNames],
        device: await store.meta('device'),
        there: there.length,
        count: await store.count(),
      };
    });
  const whole = {version: 2, stores: ['damaged', 'entries', 'meta', 'thousands'], device: 'a1', there: 2500, count: 2500};

  test('is opened with everything in it, and compacted', async () => {
    const page = await blankPage();
    await makeVersion1(page, 2500);
    assert.deepEqual(await look(page), whole);
    const compacted = await page.evaluate(async () => {
      const store = new page.Store('tawny-own');
      for (const ripe of await page.ripeThousands(store)) await page.compact(store, ...ripe);
      return [await counted(store, 'thousands'), await counted(store, 'entries')];
    });
    assert.deepEqual(compacted, [2, 500]);
    assert.deepEqual(await look(page), whole);
  });

  test('is whole after a browser that was killed in the middle of the upgrade', {timeout: 120_000}, async () => {
    for (let delay = 0; delay < 5; ++delay) {
      let killable = await KillableBrowser.start();
      try {
        const open = async () => {
          const page = await killable.context.newPage();
          await page.goto(site.server.url);
          return withEntries(page);
        };
        let page = await open();
        await makeVersion1(page, 2500);
        // Within the upgrade, at its end, or a little after.
        const upgrading = page.evaluate(
          (last) =>
            new Promise((resolve) => {
              const {createObjectStore} = IDBDatabase.prototype;
              let made = 0;
              IDBDatabase.prototype.createObjectStore = function (...values) {
                const store = createObjectStore.apply(this, values);
                if (++made === 1 + (last % 2)) resolve(setTimeout(() => {}, last));
                return store;
              };
              void new page.Store('tawny-own').database();
            }),
          delay,
        );
        await upgrading;
        const profile = await killable.kill();
        killable = await KillableBrowser.start({profile});
        page = await open();
        assert.deepEqual(await look(page), whole);
      } finally {
        await killable.end();
      }
    }
  });

  test('an open page of the older version lets go, and then says that a newer one is there', async () => {
    const page = await blankPage();
    await makeVersion1(page, 20);
    const other = await site.context.newPage();
    await other.goto(site.server.url);
    await withEntries(other);
    await page.evaluate(() => {
      const opening = indexedDB.open('tawny-own', 1);
      return new Promise((resolve) => {
        opening.onsuccess = () => {
          opening.result.onversionchange = () => opening.result.close();
          resolve(undefined);
        };
      });
    });
    assert.equal(await other.evaluate(async () => (await numbers(new page.Store('tawny-own'))).length), 20);
    const error = await page.evaluate(
      () => new Promise((resolve) => (indexedDB.open('tawny-own', 1).onerror = ({target}) => resolve(target.error.name))),
    );
    assert.equal(error, 'VersionError');
  });

  test('that is newer than this version cannot be opened, and that is said instead of beginning anew', async () => {
    const page = await blankPage();
    const seen = await page.evaluate(async () => {
      await new Promise((resolve) => {
        const opening = indexedDB.open('tawny-own', 99);
        opening.onupgradeneeded = () => opening.result.createObjectStore('entries');
        opening.onsuccess = () => resolve(opening.result.close());
      });
      const store = new page.Store('tawny-own');
      const {outcome} = await store.save([entry(1)]);
      const reading = await allLines(store).catch((error) => page.answerOf(error).outcome);
      return [outcome, reading];
    });
    assert.deepEqual(seen, ['newer', 'newer']);
  });
});
