/**
 * What a browser and a phone do to a logbook behind the app's back: files of the store damaged, cut off or gone, the
 * connection lost, the clock moved. Each time something is missing, it is said; nothing begins anew in silence.
 */
import assert from 'node:assert/strict';
import {cp, mkdtemp, open, readdir, rm, stat, truncate} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, afterEach, before, describe, test} from 'node:test';
import {serve} from '../../web/serve.mjs';
import {KillableBrowser, Phone, distFolder} from './harness.mjs';
import {chainFaults, storedEntries, storedLines} from './stored.mjs';

const morning = {query: '?demo', time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}};

let level = 115;
/** Up to the store's answer. @param {Phone} phone */
async function type(phone) {
  for (const step of ['tab/tab/ponds', 'pond/p5', 'pond/enter', 'act/level_reading']) await phone.activate(step);
  for (const digit of String(++level)) await phone.activate(`keys/${digit}`);
  await phone.activate('save');
  if (await phone.present('entry/sure')) await phone.activate('save');
}
async function save(/** @type {Phone} */ phone) {
  await type(phone);
  await phone.waitFor('text', 'Saved');
  while (await phone.present('back')) await phone.activate('back');
}

describe('the files of the store', () => {
  let server;
  /** A profile in which entries stand in files of every kind. */
  let profile;
  /** @type {string[]} */
  let stored;
  let killable;

  before(async () => {
    server = await serve({dir: distFolder()});
    // What is in the log of the first round is in a table after the second start.
    for (let round = 0; round < 2; ++round) {
      killable = await KillableBrowser.start({profile});
      const phone = await Phone.start({...morning, server, context: killable.context});
      await save(phone);
      stored = await storedLines(phone.page);
      profile = await killable.kill();
    }
  });
  after(async () => {
    await server.close();
    await rm(profile, {recursive: true, force: true});
  });
  afterEach(() => killable.end());

  /** The files of the database, by kind. @param {string} folder */
  async function storeFiles(folder) {
    const all = (await readdir(folder, {recursive: true})).filter((name) => /IndexedDB.*leveldb\//.test(name));
    assert.ok(all.length > 0, 'the files of the store are found');
    return (/** @type {RegExp} */ kind) => all.filter((name) => kind.test(name)).map((name) => join(folder, name));
  }

  const kLogs = /\.log$/;
  const kTables = /\.ldb$/;
  const kManifests = /MANIFEST/;

  /** @param {string} file @param {number} from 0..1 of its length */
  async function garbage(file, from) {
    const {size} = await stat(file);
    const handle = await open(file, 'r+');
    const first = Math.floor(size * from);
    await handle.write(Buffer.alloc(Math.max(1, size - first), 'garbage'), 0, undefined, first);
    await handle.close();
  }
  const cut = async (/** @type {string} */ file) => truncate(file, Math.floor((await stat(file)).size / 2));

  /** @type {Record<string, (files: (kind: RegExp) => string[]) => Promise<unknown>>} */
  const faults = {
    'logs and tables overwritten': (files) => Promise.all(files(/\.(log|ldb)$/).map((file) => garbage(file, 0))),
    'the log overwritten from its middle on': (files) => Promise.all(files(kLogs).map((file) => garbage(file, 0.5))),
    'tables overwritten from their middle on': (files) => Promise.all(files(kTables).map((file) => garbage(file, 0.5))),
    'the list of files overwritten': (files) => Promise.all(files(kManifests).map((file) => garbage(file, 0))),
    'the log cut to its half': (files) => Promise.all(files(kLogs).map(cut)),
    'tables cut to their half': (files) => Promise.all(files(kTables).map(cut)),
    'the list of files cut to its half': (files) => Promise.all(files(kManifests).map(cut)),
    'all files cut to nothing': (files) => Promise.all(files(/./).map((file) => truncate(file, 0))),
    'the log deleted': (files) => Promise.all(files(kLogs).map((file) => rm(file))),
    'tables deleted': (files) => Promise.all(files(kTables).map((file) => rm(file))),
    'all files deleted': (files) => Promise.all(files(/./).map((file) => rm(file))),
  };

  /** Starts the app on what is left: all lines are there, or it says that they are not and writes nothing. */
  async function startAndLook() {
    const phone = await Phone.start({...morning, server, context: killable.context});
    const nodes = await phone.nodes();
    const alarm = nodes.find(({id}) => /^(welcome|notice)\/(alarm|store)$/.test(id));
    const left = alarm?.id.endsWith('store') ? [] : await storedLines(phone.page);
    return {
      complete: stored.every((line) => left.includes(line)),
      alarm: alarm?.name ?? '',
      begunAnew: left.some((line) => !stored.includes(line)),
    };
  }

  for (const [fault, harm] of Object.entries(faults)) {
    test(`${fault} while the browser was closed: an alarm, and no new start`, {timeout: 60_000}, async (t) => {
      const copy = await mkdtemp(join(tmpdir(), 'tawny-profile-'));
      await cp(profile, copy, {recursive: true, verbatimSymlinks: true});
      await harm(await storeFiles(copy));
      killable = await KillableBrowser.start({profile: copy});
      const {complete, alarm, begunAnew} = await startAndLook();
      t.diagnostic(complete ? 'nothing is missing' : alarm);
      assert.ok(complete || /missing|does not open|not the one/.test(alarm), `something is missing, and it says "${alarm}"`);
      assert.equal(begunAnew, false);
    });
  }

  test('all files deleted while the app runs: an alarm at the next start', {timeout: 60_000}, async () => {
    const copy = await mkdtemp(join(tmpdir(), 'tawny-profile-'));
    await cp(profile, copy, {recursive: true, verbatimSymlinks: true});
    killable = await KillableBrowser.start({profile: copy});
    const phone = await Phone.start({...morning, server, context: killable.context});
    const files = await storeFiles(copy);
    await Promise.all(files(/./).map((file) => rm(file, {force: true})));
    await type(phone);
    await killable.kill();
    killable = await KillableBrowser.start({profile: copy});
    const {complete, alarm, begunAnew} = await startAndLook();
    assert.equal(complete, false);
    assert.match(alarm, /missing|does not open/);
    assert.equal(begunAnew, false);
  });
});

describe('a connection that is lost', () => {
  /** @type {Phone} */
  let phone;
  afterEach(async () => {
    const {errors} = phone;
    await phone.end();
    assert.deepEqual(errors, []);
  });

  /** The next `times` transactions that write fail so. @param {string} how */
  const fail = (how, times) =>
    phone.page.evaluate(
      ([way, count]) => {
        const open = IDBDatabase.prototype.transaction;
        let left = count;
        IDBDatabase.prototype.transaction = function (names, mode, options) {
          if (mode === 'readwrite' && left-- > 0) {
            if (way !== 'closed') throw new DOMException('Connection to Indexed Database server lost.', way);
            this.close();
          }
          return open.call(this, names, mode, options);
        };
      },
      [how, times],
    );

  for (const how of ['closed', 'UnknownError', 'InvalidStateError']) {
    test(`once (${how}): it is opened again, and the entry is saved`, async () => {
      phone = await Phone.start(morning);
      await fail(how, 1);
      await save(phone);
      assert.equal((await storedEntries(phone.page)).at(-1).values.level_cm, level);
    });

    test(`twice (${how}): it is said, the entry stays on the screen, and is saved when it is tried again`, async () => {
      phone = await Phone.start(morning);
      const before = await storedLines(phone.page);
      await fail(how, 2);
      await type(phone);
      await phone.waitFor('alert', 'Not saved');
      assert.ok((await phone.nodes()).some(({name, value}) => `${name} ${value}`.includes(`${level} cm`)), 'it is on the screen');
      assert.deepEqual(await storedLines(phone.page), before);
      await phone.activate('save/retry');
      await phone.waitFor('text', 'Saved');
      const lines = await storedLines(phone.page);
      assert.equal(lines.length, before.length + 1);
      assert.deepEqual(chainFaults(lines), []);
    });
  }
});

test('a clock moved by a year, forth and back between saves: order and counters hold, it is flagged, nothing is lost', async () => {
  const phone = await Phone.start(morning);
  // Not a reading: one from before the cycle of its pond began is not taken, and the person sets its time.
  const sign = async () => {
    const count = (await storedLines(phone.page)).length;
    for (const step of ['tab/tab/office', 'office/person', 'save']) await phone.activate(step);
    await phone.node('tab/tab/office');
    while ((await storedLines(phone.page)).length === count) await phone.settle();
  };
  const before = await storedEntries(phone.page);
  const times = ['2026-11-25T11:30:00Z', '2027-11-25T11:30:00Z', '2025-11-25T11:30:00Z', '2026-11-25T11:40:00Z'];
  for (const time of times) {
    await phone.setTime(time);
    await sign();
  }
  await phone.reload();
  const lines = await storedLines(phone.page);
  const entries = lines.map((line) => JSON.parse(line));
  const added = entries.slice(before.length);
  assert.equal(added.length, times.length);
  assert.deepEqual(chainFaults(lines), []);
  assert.deepEqual(
    added.map(({recorded}) => recorded.slice(0, 10)),
    times.map((time) => time.slice(0, 10)),
  );
  for (let i = 1; i < entries.length; ++i) assert.ok(entries[i].lamport > entries[i - 1].lamport, 'the counter goes up');
  await phone.activate('tab/tab/office');
  const flags = (await phone.nodes()).filter(({id}) => id.startsWith('office/chain/'));
  assert.ok(flags.length > 0, 'it is said at Office');
  const {errors} = phone;
  await phone.end();
  assert.deepEqual(errors, []);
});

test('a kept line that was changed, the hash of its thousand too: an alarm, and from then on every start looks first', async () => {
  const phone = await Phone.start(morning);
  const loads = [];
  phone.page.on('load', () => loads.push(Date.now()));
  /** Keeps the first lines as a thousand, as compaction does. @param {boolean} changed with another number in the last reading */
  const keep = (changed) =>
    phone.page.evaluate(async (change) => {
      const answer = (/** @type {IDBRequest} */ request) =>
        new Promise((resolve, reject) => {
          request.onsuccess = () => resolve(request.result);
          request.onerror = () => reject(request.error);
        });
      const database = await answer(indexedDB.open('tawny-demo'));
      const stores = database.transaction(['entries', 'thousands'], 'readwrite');
      const entries = (await answer(stores.objectStore('entries').getAll())).slice(0, 60);
      const [kept] = await answer(stores.objectStore('thousands').getAll());
      let lines = kept?.lines ?? entries.map(({line}) => `${line}\n`).join('');
      const at = lines.lastIndexOf('_cm":') + 5;
      if (change) lines = lines.slice(0, at) + (lines[at] === '9' ? '8' : '9') + lines.slice(at + 1);
      database.close();
      const digest = await crypto.subtle.digest('SHA-256', new TextEncoder().encode(lines));
      const sha256 = [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, '0')).join('');
      const again = await answer(indexedDB.open('tawny-demo'));
      const writing = again.transaction(['entries', 'thousands'], 'readwrite');
      const count = lines.split('\n').length - 1;
      const {device} = JSON.parse(lines.slice(0, lines.indexOf('\n')));
      writing.objectStore('thousands').put({device, thousand: 0, lines, count, sha256});
      if (!kept) for (const {device: of, number, hash} of entries) writing.objectStore('entries').delete([of, number, hash]);
      await new Promise((resolve) => writing.addEventListener('complete', resolve));
      again.close();
      return kept !== undefined;
    }, changed);
  const looksFirst = () => phone.page.evaluate(() => localStorage.getItem('tawny.with-hashes'));
  const alarm = async () => (await phone.nodes()).find(({id}) => /^(welcome|notice)\/alarm$/.test(id))?.name ?? '';

  const before = await storedLines(phone.page);
  assert.equal(await keep(false), false);
  assert.deepEqual(await storedLines(phone.page), before);
  await phone.reload();
  await phone.settle();
  assert.equal(await alarm(), '');
  assert.equal(await looksFirst(), null);
  assert.equal(loads.length, 1, 'what is whole starts once');

  assert.equal(await keep(true), true);
  assert.notDeepEqual(await storedLines(phone.page), before);
  const again = new Promise((resolve) => phone.page.on('load', () => loads.length === 3 && resolve(undefined)));
  await phone.page.reload();
  await again;
  await phone.started();
  assert.equal(await looksFirst(), 'yes');
  assert.match(await alarm(), /missing on this device .*: 1\./);
  await phone.reload();
  await phone.settle();
  assert.match(await alarm(), /missing on this device .*: 1\./);
  assert.equal(loads.length, 4, 'the next start looks at once');
  // Where that cannot be remembered, it does not start again and again.
  await phone.page.addInitScript(() => {
    const {setItem} = Storage.prototype;
    Storage.prototype.setItem = function (key, value) {
      if (key === 'tawny.with-hashes') throw new DOMException('', 'QuotaExceededError');
      setItem.call(this, key, value);
    };
  });
  await phone.page.evaluate(() => localStorage.removeItem('tawny.with-hashes'));
  await phone.page.reload();
  await phone.page.locator('#fallback').waitFor({state: 'visible'});
  assert.equal(loads.length, 5);
  const {errors} = phone;
  await phone.end();
  assert.deepEqual(errors, []);
});
