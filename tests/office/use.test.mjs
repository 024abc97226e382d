/**
 * A real use of the built app on a real office: whatever a person does, nothing asks any address but the office's own.
 */
import assert from 'node:assert/strict';
import {cp, mkdtemp, readFile, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {distFolder, endAll, launch, Phone, phoneSettings} from '../browser/harness.mjs';
import {storedLines} from '../browser/stored.mjs';
import {areas, becomeOffice} from '../browser/ways.mjs';
import {Apache, setUp, until, users} from './servers.mjs';

let apache, browser, dist;

before(async () => {
  dist = await mkdtemp(join(tmpdir(), 'tawny-dist-'));
  await cp(distFolder(), dist, {recursive: true});
  apache = await Apache.start(dist);
  // By the whole browser, not by a context: a service worker takes no other.
  browser = await launch(['--ignore-certificate-errors']);
});
after(() => endAll(() => browser?.close(), () => apache?.end(), () => rm(dist, {recursive: true, force: true})));

test('a day with the app asks nothing of any other origin', async () => {
  const context = await browser.newContext({...phoneSettings, deviceScaleFactor: 1});
  /** @type {Set<string>} */
  const origins = new Set();
  // Of every page of the context, and of its service worker.
  context.on('request', (request) => {
    const {origin, protocol} = new URL(request.url());
    origins.add(origin === 'null' ? protocol : origin);
  });
  const server = {url: apache.page, close: async () => {}};
  let phone = await Phone.start({query: '?demo', server, context});
  for (const area of areas) await phone.activate(area);
  const lines = await storedLines(phone.page, 'demo');
  await phone.page.close();

  phone = await Phone.start({query: '?own', server, context});
  await becomeOffice(phone, lines);
  const settings = {user: 'ana', writer: 'ana', password: users.ana};
  await phone.page.evaluate((all) => {
    for (const [key, value] of Object.entries(all)) localStorage.setItem(`tawny.setting.depot.${key}`, value);
  }, settings);
  await phone.reload();
  await phone.activate('tab/tab/office');
  await phone.node('sync/done');
  for (const area of areas) await phone.activate(area);

  await phone.activate('office/report');
  await phone.activate('report/pond/p6');
  const [record] = await Promise.all([context.waitForEvent('page'), phone.activate('report/cycle/0/page')]);
  await record.locator('main#report h1').waitFor();
  await record.close();
  while (await phone.present('back')) await phone.activate('back');

  await phone.activate('tab/tab/office');
  await phone.activate('language/vi');
  await phone.page.waitForFunction(() => document.documentElement.lang === 'vi');

  assert.equal(await phone.offlineReady(), true);
  const page = await readFile(join(dist, 'index.html'), 'utf8');
  await writeFile(join(dist, 'index.html'), page.replace('<title>', '<meta name="mark" content="second"><title>'));
  const worker = await readFile(join(dist, 'service-worker.js'), 'utf8');
  await writeFile(join(dist, 'service-worker.js'), worker.replace(/("?url"?:\s*"index\.html",\s*"?revision"?:\s*")[^"]*/, '$1second')
    .replace(/("?revision"?:\s*")[^"]*("\s*,\s*"?url"?:\s*"index\.html")/, '$1second$2'));
  const {code, said} = await setUp(apache.root, ['--app', dist, '--trial', '--port', String(apache.port)]);
  assert.equal(code, 0, said);
  await phone.page.evaluate(() => navigator.serviceWorker.ready.then((registration) => registration.update()));
  const loaded = phone.page.waitForEvent('load');
  await phone.node('office/update/accept');
  await phone.activate('office/update/accept').catch(() => {});
  await loaded;
  await phone.started();
  assert.equal(await phone.page.locator('meta[name="mark"]').count(), 1, 'the new version runs');

  // Apache's log says that these requests are seen at all.
  const log = await readFile(join(apache.root, 'log', 'tawny-access.log'), 'utf8');
  for (const part of ['"GET /tawny/?demo ', 'words-vi-', '"PROPFIND /depot/', '"PUT /depot/ana/', 'service-worker.js']) {
    assert.ok(log.includes(part), part);
  }
  assert.deepEqual([...origins].filter((origin) => !['blob:', 'data:'].includes(origin)), [apache.origin]);
  await context.close();
});
