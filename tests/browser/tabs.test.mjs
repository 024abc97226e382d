/**
 * Two tabs of one browser: one writes, the other follows and can ask for the pen. However often it passes, and whatever
 * is being saved meanwhile, no entry is lost and no number is used twice.
 */
import assert from 'node:assert/strict';
import {createHash} from 'node:crypto';
import {afterEach, describe, test} from 'node:test';
import {Phone} from './harness.mjs';
import {useStorePage, withEntries} from './store-page.mjs';
import {chainFaults, storedEntries, storedLines} from './stored.mjs';

const morning = {query: '?demo', time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}};

describe('the pen between two tabs that save without a rest', () => {
  const kPasses = 20;
  const site = useStorePage();

  /** A tab with the app's own parts, and in place of the program one that only counts its entries. */
  const openTab = async (context, name) => {
    const tab = await context.newPage();
    await tab.goto(site.server.url);
    await withEntries(tab);
    await tab.evaluate(async (tabName) => {
      const store = new page.Store('tawny-own', {unit: 10});
      const pen = new page.Pen('own');
      const saver = new page.Saver({store, storeName: 'own', device: 'a1', witness: null});
      const compactor = new page.Compactor(store, {quiet: () => new Promise((resolve) => setTimeout(resolve, 1))});
      const state = {writes: false, busy: false, last: 0, previous: '', acknowledged: [], refused: 0, news: []};
      const program = {
        send(what, news) {
          if (what === 'holds_unsaved') return state.busy ? 1 : 0;
          if (what !== 'pen') return 0;
          state.news.push(news);
          if (news === 'writing' || news === 'reading') state.writes = news === 'writing';
          return 0;
        },
      };
      const read = async () => {
        const lines = (await allLines(store)).map((line) => JSON.parse(line));
        lines.sort((a, b) => a.number - b.number);
        state.last = lines.at(-1)?.number ?? 0;
        state.previous = lines.at(-1)?.hash ?? '';
      };
      await pen.take();
      const tabs = new page.Tabs({
        pen,
        saver,
        compactor,
        program,
        giveAllLines: read,
        async openAgain() {
          saver.witness = await page.readWitness('own', 'a1');
          await read();
        },
      });
      await read();
      state.writes = pen.isHeld;
      tabs.start();
      globalThis.tab = {store, tabs, state, pen};
      globalThis.write = async (rounds) => {
        for (let round = 0; round < rounds; ++round) {
          await new Promise((resolve) => setTimeout(resolve, Math.random() * 4));
          if (!state.writes) continue;
          // What a person types takes its time, and is something that a change of the pen would lose.
          state.busy = true;
          if (Math.random() < 0.3) await new Promise((resolve) => setTimeout(resolve, Math.random() * 4));
          const number = state.last + 1;
          const hash = `${tabName}${number}`;
          const line = `{"device":"a1","number":${number},"previous":"${state.previous}","hash":"${hash}"}`;
          const entries = [{device: 'a1', number, hash, line}];
          const {outcome} = await saver.save(entries);
          if (outcome === 'saved') {
            Object.assign(state, {last: number, previous: hash});
            state.acknowledged.push(hash);
            compactor.saved(entries);
          } else {
            state.refused += 1;
          }
          state.busy = false;
        }
      };
    }, name);
    return tab;
  };

  test(`passes ${kPasses} times: every saved entry is there, numbers are used once, the chain is whole`, {timeout: 180_000}, async (t) => {
    const context = await site.browser.newContext();
    const both = [await openTab(context, 'x'), await openTab(context, 'y')];
    let stop = false;
    const writing = both.map(async (tab) => {
      while (!stop) await tab.evaluate(() => write(20));
    });
    let passes = 0;
    let refusals = 0;
    while (passes < kPasses) {
      const [asker] = (await Promise.all(both.map((tab) => tab.evaluate(() => globalThis.tab.pen.isHeld)))).flatMap((held, i) =>
        held ? [] : [both[i]],
      );
      const outcome = await asker.evaluate(async () => {
        await tab.tabs.askForPen();
        return tab.state.news.at(-1);
      });
      if (outcome === 'writing') passes += 1;
      if (outcome === 'not_now') refusals += 1;
    }
    stop = true;
    await Promise.all(writing);
    const states = await Promise.all(both.map((tab) => tab.evaluate(() => globalThis.tab.state)));
    const lines = await both[0].evaluate(async () => (await allLines(tab.store)).map((line) => JSON.parse(line)));
    const entries = [...new Map(lines.map((line) => [line.hash, line])).values()].sort((a, b) => a.number - b.number);
    const acknowledged = states.flatMap((state) => state.acknowledged);
    assert.deepEqual(acknowledged.filter((hash) => !entries.some((entry) => entry.hash === hash)), []);
    assert.equal(entries.length, acknowledged.length);
    entries.forEach((entry, i) => {
      assert.equal(entry.number, i + 1);
      assert.equal(entry.previous, i === 0 ? '' : entries[i - 1].hash);
    });
    for (const state of states) assert.ok(state.acknowledged.length > 0, 'both have written');
    t.diagnostic(`${acknowledged.length} entries, ${passes} passes, ${refusals} times not now`);
    await context.close();
  });

  test('a tab that is gone while it waits does not leave the pen to nobody', async () => {
    const context = await site.browser.newContext();
    const writer = await openTab(context, 'x');
    const asker = await openTab(context, 'y');
    await writer.evaluate(() => {
      tab.tabs.settle = () => new Promise((resolve) => (globalThis.goOn = resolve));
    });
    asker.evaluate(() => tab.tabs.askForPen()).catch(() => {});
    await writer.waitForFunction(() => globalThis.goOn);
    await asker.close();
    await writer.evaluate(() => goOn());
    // Whether it kept the pen or gave it to a page that was closing, it goes on writing.
    await writer.waitForFunction(async () => {
      const {held, pending} = await navigator.locks.query();
      return held.length === 1 && pending.length === 0 && globalThis.tab.pen.isHeld && globalThis.tab.state.writes;
    });
    await context.close();
  });

  test('a tab that does not answer is named after some seconds, and keeps the pen', async () => {
    const context = await site.browser.newContext();
    const writer = await context.newPage();
    await writer.goto(site.server.url);
    assert.equal(await writer.evaluate(() => new page.Pen('own').take()), true);
    const asker = await openTab(context, 'y');
    const seen = await asker.evaluate(async () => {
      await tab.tabs.askForPen();
      return [tab.state.news, tab.pen.isHeld];
    });
    assert.deepEqual(seen, [['no_answer'], false]);
    await context.close();
  });
});

describe('the app in two tabs', () => {
  let first;
  let second;
  afterEach(async () => {
    const errors = [...first.errors, ...second.errors];
    await second.end();
    await first.end();
    assert.deepEqual(errors, []);
  });

  async function openBoth() {
    first = await Phone.start(morning);
    second = await Phone.start({...morning, server: first.server, context: first.context});
  }

  /** A tab draws while it is in front. */
  const show = (/** @type {Phone} */ phone) => phone.page.bringToFront();
  const enter = async (/** @type {Phone} */ phone) => {
    await show(phone);
    for (const step of ['tab/tab/ponds', 'pond/p5', 'pond/enter', 'act/level_reading']) await phone.activate(step);
  };
  let level = 115;
  const type = async (/** @type {Phone} */ phone) => {
    for (const digit of String(++level)) await phone.activate(`keys/${digit}`);
  };
  const finish = async (/** @type {Phone} */ phone) => {
    await phone.activate('save');
    if (await phone.present('entry/sure')) await phone.activate('save');
    await phone.waitFor('text', 'Saved');
  };
  const save = async (/** @type {Phone} */ phone) => {
    await enter(phone);
    await type(phone);
    await finish(phone);
    while (await phone.present('back')) await phone.activate('back');
    return level;
  };
  const ask = async (/** @type {Phone} */ phone) => {
    await show(phone);
    await phone.activate('tab/tab/office');
    await phone.node('office/pen/ask');
    await phone.activate('office/pen/ask');
  };
  /** The store is read by device, so what is appended to a chain stands before this. @param {any} page */
  const keepOneOfALaterDevice = async (page) => {
    const [like] = await storedLines(page);
    const {device, number, previous} = JSON.parse(like);
    const body = like
      .slice(0, like.lastIndexOf(',"hash":'))
      .replace(`"device":"${device}"`, '"device":"zz-office"')
      .replace(`"number":${number}`, '"number":1')
      .replace(previous, '0'.repeat(64));
    const hash = createHash('sha256').update(body).digest('hex');
    await page.evaluate(async (record) => {
      const database = await new Promise((done) => {
        const request = indexedDB.open('tawny-demo');
        request.onsuccess = () => done(request.result);
      });
      const transaction = database.transaction('entries', 'readwrite');
      transaction.objectStore('entries').put(record);
      await new Promise((done) => transaction.addEventListener('complete', done));
      database.close();
    }, {device: 'zz-office', number: 1, hash, line: `${body},"hash":"${hash}"}`});
  };
  const levels = async () => (await storedEntries(first.page)).map(({values}) => values.level_cm).filter(Boolean);

  test('the second follows live, says so, asks for the pen and writes; the first reads along then, and back', async () => {
    await openBoth();
    await second.waitFor('status', 'Tawny is open in another tab');
    const entries = async (/** @type {Phone} */ phone) => {
      await show(phone);
      await phone.activate('tab/tab/office');
      return Number((await phone.node('office/entries')).value.replace(/\D/g, ''));
    };
    const before = await entries(second);
    const saved = [await save(first)];
    await show(second);
    await second.page.waitForFunction(
      (count) => document.querySelector('#mirror [data-node="office/entries"]')?.dataset.value.replace(/\D/g, '') === String(count),
      before + 1,
    );
    let [writer, reader] = [first, second];
    for (let pass = 0; pass < 3; ++pass) {
      await ask(reader);
      await reader.page.waitForFunction(() => !document.querySelector('#mirror [data-node="office/pen"]'));
      [writer, reader] = [reader, writer];
      saved.push(await save(writer), await save(writer));
      await show(reader);
      await reader.activate('tab/tab/office');
      await reader.node('office/pen');
    }
    const there = await levels();
    assert.deepEqual(saved.filter((value) => !there.includes(value)), []);
    assert.deepEqual(chainFaults(await storedLines(first.page)), []);
    assert.equal(await entries(reader), await entries(writer));
  });

  test('what is saved while the second begins is there once it has begun', async () => {
    first = await Phone.start(morning);
    await first.context.addInitScript(() => {
      const {get} = IDBObjectStore.prototype;
      IDBObjectStore.prototype.get = function (key) {
        const request = get.call(this, key);
        if (key === 'key') request.addEventListener('success', () => (globalThis.knowsItself = true));
        return request;
      };
      const {instantiate} = WebAssembly;
      const asked = new Promise((done) => (globalThis.goOn = done));
      WebAssembly.instantiate = async (...given) => {
        await asked;
        return instantiate.apply(WebAssembly, given);
      };
    });
    await keepOneOfALaterDevice(first.page);
    const opened = first.context.waitForEvent('page');
    const starting = Phone.start({...morning, server: first.server, context: first.context});
    const page = await opened;
    await page.waitForFunction(() => globalThis.knowsItself);
    const before = (await storedLines(page)).length;
    await save(first);
    assert.equal((await storedLines(page)).length, before + 1);
    await page.evaluate(() => globalThis.goOn());
    second = await starting;
    await show(second);
    await second.activate('tab/tab/office');
    await second.page.waitForFunction(
      (count) => document.querySelector('#mirror [data-node="office/entries"]')?.dataset.value.replace(/\D/g, '') === String(count),
      before + 1,
    );
  });

  test('a tab in the middle of an entry keeps the pen and says who asks; both are told', async () => {
    await openBoth();
    await enter(first);
    await type(first);
    await ask(second);
    await second.waitFor('status', 'The other tab holds something');
    await show(first);
    await first.waitFor('status', 'Another tab asks to write');
    await finish(first);
    await ask(second);
    await second.page.waitForFunction(() => !document.querySelector('#mirror [data-node="office/pen"]'));
    assert.ok((await levels()).includes(level));
    assert.deepEqual(chainFaults(await storedLines(first.page)), []);
  });
});
