/**
 * The whole way: the built app on phones in a real Chromium, the office on a real Apache, a bad network between them.
 * Whatever the network does to the first sync, the next one brings every device to the same logbook.
 */
import assert from 'node:assert/strict';
import {readFile, rm} from 'node:fs/promises';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {Phone, distFolder, launch, phoneSettings} from '../browser/harness.mjs';
import {storedLines} from '../browser/stored.mjs';
import {connectDepot, joinByFile} from '../browser/ways.mjs';
import {FaultyProxy} from './faulty-proxy.mjs';
import {Apache, filesIn, until, users} from './servers.mjs';

let apache;
let proxy;
let browser;
/** The demo farm's entries: a season's beginning on one device. @type {string[]} */
let lines;

before(async () => {
  apache = await Apache.start(distFolder());
  proxy = await FaultyProxy.start(apache.upstream, await apache.identity());
  browser = await launch();
  const phone = await openPhone('?demo');
  await phone.page.waitForFunction(() => document.querySelector('#mirror [data-node^="tab/"]'));
  lines = await storedLines(phone.page, 'demo');
  await phone.page.context().close();
});
after(async () => {
  await browser?.close();
  await proxy?.end();
  await apache?.end();
});

/** A phone of its own, that reaches app and depot through the network under test. */
async function openPhone(query = '?own') {
  const context = await browser.newContext({...phoneSettings, deviceScaleFactor: 1, ignoreHTTPSErrors: true});
  return Phone.start({query, server: {url: `${proxy.origin}/tawny/`, close: async () => {}}, context});
}

/** The settings of a web folder behind the network under test. */
const settingsOf = (user) => ({kind: 'webdav', address: `${proxy.origin}/depot/`, writer: user, user, password: users[user]});

/** The whole files of a folder of the depot: Apache writes each under a name of its own first. */
const segmentsIn = async (/** @type {string} */ folder) => (await filesIn(folder)).filter((file) => file.endsWith('.jsonl'));

/** Every line that the depot holds, once. */
async function linesAtOffice() {
  const held = new Set();
  for (const file of await segmentsIn(apache.depot)) {
    const text = await readFile(join(apache.depot, file), 'utf8');
    for (const line of text.split('\n')) if (line !== '') held.add(line);
  }
  return [...held].sort();
}

const isPut = ({method}) => method === 'PUT';
const isList = ({method}) => method === 'PROPFIND';
const isGet = ({method, url}) => method === 'GET' && url.startsWith('/depot/');
const answered = (status) => ({answer: {status}});

/** What the network does once, while the first phone syncs. */
const faults = {
  'nothing': undefined,
  'the listing is cut off': {when: isList, giveOnly: 40},
  'an upload is cut off': {when: isPut, sendOnly: 700},
  'the answer to an upload is lost': {when: isPut, giveOnly: 0},
  'the reading back is cut off': {when: isGet, giveOnly: 300},
  ...Object.fromEntries([401, 403, 404, 409, 412, 500, 503, 507].map((status) => [
    `an upload is answered ${status}`, {when: isPut, ...answered(status)}])),
  'a login page comes in its place': {when: isList, answer: {status: 200, type: 'text/html', text: '<html>Log in</html>'}},
};

describe('three devices come to the same logbook, although', () => {
  for (const [name, fault] of Object.entries(faults)) {
    test(name, async () => {
      for (const user of Object.keys(users)) {
        for (const file of await segmentsIn(join(apache.depot, user))) await rm(join(apache.depot, user, file));
      }
      const first = await openPhone();
      await joinByFile(first, lines);
      proxy.fault = fault && {...fault, times: 1};
      await connectDepot(first, settingsOf('ana'));
      if (fault) await until(() => proxy.fault.times === 0, 'the fault');
      proxy.fault = undefined;
      assert.deepEqual(await storedLines(first.page, 'own'), lines, 'nothing is lost on the phone');
      await first.reload();
      await until(async () => (await linesAtOffice()).length === lines.length, 'all at the office');
      assert.deepEqual(await linesAtOffice(), [...lines].sort());
      for (const user of ['ben', 'ana']) {
        const other = await openPhone();
        await connectDepot(other, settingsOf(user));
        await until(async () => (await storedLines(other.page, 'own')).length >= lines.length, 'the entries on another phone');
        assert.deepEqual(await storedLines(other.page, 'own'), lines);
        await other.page.context().close();
      }
      await first.page.context().close();
    });
  }
});
