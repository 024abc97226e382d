/**
 * The app without a network, and the coming of a new version.
 */
import assert from 'node:assert/strict';
import {cp, mkdtemp, readFile, readdir, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {afterEach, beforeEach, test} from 'node:test';
import {serve} from '../../web/serve.mjs';
import {Phone, distFolder} from './harness.mjs';

let dist;
let server;
let phone;

beforeEach(async () => {
  dist = await mkdtemp(join(tmpdir(), 'tawny-dist-'));
  await cp(distFolder(), dist, {recursive: true});
  server = await serve({dir: dist});
  phone = await Phone.start({query: '?demo', server});
  await phone.offlineReady();
});
afterEach(async () => {
  await phone.end();
  await server.close();
  await rm(dist, {recursive: true, force: true});
});

/** A new version of the page under the old address. */
async function publish(mark) {
  const page = join(dist, 'index.html');
  await writeFile(page, (await readFile(page, 'utf8')).replace('<title>', `<meta name="mark" content="${mark}"><title>`));
  const worker = join(dist, 'service-worker.js');
  const text = await readFile(worker, 'utf8');
  const changed = text.replace(/("?revision"?:\s*")[^"]*("\s*,\s*"?url"?:\s*"index\.html")/, `$1${mark}$2`);
  assert.notEqual(changed, text, 'the list of files is not where this test looks for it');
  await writeFile(worker, changed);
}

const mark = () =>
  phone.page.evaluate(() => document.querySelector('meta[name="mark"]')?.getAttribute('content') ?? 'first');

/** Looks for a new version and waits until its worker is at rest; gives "installed", or "redundant" when it failed. */
const update = () =>
  phone.page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready;
    const found = new Promise((resolve) => registration.addEventListener('updatefound', resolve, {once: true}));
    await registration.update();
    await found;
    const worker = registration.installing ?? registration.waiting;
    return new Promise((resolve) => {
      const look = () => ['installed', 'redundant'].includes(worker?.state ?? '') && resolve(worker?.state);
      worker?.addEventListener('statechange', look);
      look();
    });
  });

test('starts again with the server gone', async () => {
  assert.equal(await phone.offlineReady(), true);
  await server.close();
  await phone.reload();
  assert.ok((await phone.nodes()).length > 0);
  assert.deepEqual(phone.errors, []);
});

test('starts by the demo address too with the server gone', async () => {
  await server.close();
  await phone.page.goto(`${server.url}?demo=1`);
  await phone.started();
  assert.equal(new URL(phone.page.url()).search, '', 'the address does not keep the choice');
});

test('asks nothing of the server once it is ready', async () => {
  const asked = [];
  await phone.reload();
  phone.page.on('request', (request) => asked.push(request));
  await phone.reload();
  const fromServer = [];
  for (const request of asked) {
    const response = await request.response();
    if (!response?.fromServiceWorker() && request.url().startsWith('http')) fromServer.push(request.url());
  }
  assert.deepEqual(
    fromServer.filter((url) => !url.endsWith('/service-worker.js')),
    [],
  );
});

test('a new version waits, through reloads too, until it is accepted', async () => {
  await publish('second');
  assert.equal(await update(), 'installed');
  await phone.reload();
  assert.equal(await mark(), 'first');
  const reloaded = phone.page.waitForEvent('load');
  await phone.page.evaluate(() => globalThis.tawnyHost.acceptUpdate());
  await reloaded;
  await phone.started();
  assert.equal(await mark(), 'second');
});

test('a new version with a missing file leaves the old one whole', async () => {
  await publish('broken');
  const worker = join(dist, 'service-worker.js');
  await writeFile(worker, (await readFile(worker, 'utf8')).replace(/tawny-rest-[0-9a-f]{8}\.wasm/, 'tawny-rest-00000000.wasm'));
  assert.equal(await update(), 'redundant');
  await server.close();
  await phone.reload();
  assert.equal(await mark(), 'first');
  assert.equal(await phone.offlineReady(), true);
});

test('every file of the page is in the list, and none comes from elsewhere', async () => {
  const text = await readFile(join(dist, 'service-worker.js'), 'utf8');
  for (const file of await readdir(dist)) {
    // Neither the worker itself nor the list of what is in the app is for a phone to keep.
    if (!['service-worker.js', 'tawny.cdx.json'].includes(file)) assert.ok(text.includes(file), file);
  }
  const origins = await phone.page.evaluate(() =>
    performance.getEntriesByType('resource').map((resource) => new URL(resource.name).origin),
  );
  assert.deepEqual([...new Set(origins)], [new URL(server.url).origin]);
});
