/**
 * The S3 carrier in a real Chromium, from a page of another origin, against a real Ceph object gateway with the
 * policy and the CORS rules of web/office/s3.md.
 */
import assert from 'node:assert/strict';
import {mkdtemp, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {serve} from '../../web/serve.mjs';
import {signed} from '../../web/src/carriers/sigv4.js';
import {writeCarrierPage} from '../browser/carrier-page.mjs';
import {endAll} from '../browser/harness.mjs';
import {bucket, bucketSettings, keys, makeBucket, own, region} from './bucket.mjs';
import {carry, CarrierPages} from './carrier-pages.mjs';
import {Ceph, kHost} from './ceph.mjs';
import {FaultyProxy} from './faulty-proxy.mjs';
import {ask, segmentName} from './servers.mjs';

const line = '{"v":1,"device":"d1","number":1,"note":"água"}\n';
const name = segmentName('ana/d1', 1, line);
let ceph;
let site;
let dir;
let pages;
let page;

before(async () => {
  dir = await mkdtemp(join(tmpdir(), 'tawny-s3-page-'));
  await writeCarrierPage(dir);
  site = await serve({dir});
  ceph = await Ceph.start();
  await makeBucket(ceph, new URL(site.url).origin);
  pages = await CarrierPages.start([`--host-resolver-rules=MAP ${kHost} 127.0.0.1, MAP *.${kHost} 127.0.0.1`]);
  page = await pages.open(site.url);
});
after(() => endAll(() => pages?.end(), () => ceph?.end(), () => site?.close(), () => dir && rm(dir, {recursive: true, force: true})));

const settingsOf = (user, more) => bucketSettings(user, ceph.origin, more);
const asAna = (act, of, more) => carry(page, settingsOf('ana'), act, of, more);

test('a new bucket is empty', async () => {
  assert.deepEqual(await asAna('list', ''), []);
  assert.deepEqual(await asAna('list', 'ana/d1/0/'), []);
});

test('what is put is listed and read back by another user, byte for byte', async () => {
  assert.equal(await asAna('put', name, {text: line}), 'put');
  assert.equal(await asAna('put', name, {text: line}), 'put');
  for (const folder of ['', 'ana/', 'ana/d1/', 'ana/d1/0/']) {
    assert.deepEqual(await carry(page, settingsOf('ben'), 'list', folder), [name], folder);
  }
  assert.deepEqual(await asAna('list', 'ben/'), []);
  assert.equal(await carry(page, settingsOf('ben'), 'get', name), line);
});

test('the bucket\'s name may stand in the host', async () => {
  const settings = settingsOf('ana', {address: `https://${kHost}:${ceph.port}`, style: 'host'});
  const other = segmentName('ana/d1', 2, 'two\n');
  assert.equal(await carry(page, settings, 'put', other, {text: 'two\n'}), 'put');
  assert.deepEqual(await carry(page, settings, 'list', 'ana/'), [name, other].sort());
  assert.equal(await carry(page, settings, 'get', other), 'two\n');
  assert.equal(await asAna('get', other), 'two\n');
});

test('a prefix is put before every name, and taken off again, whatever letters it has', async () => {
  for (const prefix of ['farms', 'farms/north', "/o'dd (farm) + é&=!*~/"]) {
    const settings = {...settingsOf('owner'), prefix};
    assert.deepEqual(await carry(page, settings, 'list', ''), [], prefix);
    assert.equal(await carry(page, settings, 'put', name, {text: prefix}), 'put', prefix);
    assert.deepEqual(await carry(page, settings, 'list', 'ana/'), [name], prefix);
    assert.equal(await carry(page, settings, 'get', name), prefix);
  }
  const listed = await asAna('list', '');
  assert.ok(listed.every((found) => found.startsWith('ana/d1/0/')), 'what is under a prefix is not the depot\'s');
});

test('a list of more than one page is whole', async () => {
  const all = [];
  for (let number = 3; number < 1105; ++number) all.push(segmentName('ben/d2', number, String(number)));
  const put = async (/** @type {string} */ of) => own(ceph, 'PUT', `/${bucket}/${of}`, {body: /(\d+)-\d+-[^/]*$/.exec(of)[1]});
  const waiting = [...all];
  await Promise.all(Array.from({length: 16}, async () => {
    for (let of = waiting.pop(); of !== undefined; of = waiting.pop()) await put(of);
  }));
  assert.deepEqual(await asAna('list', 'ben/'), all.sort());
  assert.deepEqual(await asAna('list', 'ben/d2/1/'), all.filter((of) => of.startsWith('ben/d2/1/')));
});

test('a user writes under the own name only, and cannot delete', async () => {
  const theirs = segmentName('ben/d1', 1, 'x');
  assert.equal((await asAna('put', theirs, {text: 'x'})).fault, 'no_right');
  assert.equal((await asAna('get', theirs)).fault, 'not_there');
  for (const method of ['DELETE', 'PUT']) {
    const path = `/${bucket}/${method === 'PUT' ? theirs : name}`;
    const host = `127.0.0.1:${ceph.port}`;
    const headers = await signed({method, host, path}, {...keys.ana, region}, Date.now());
    assert.equal((await ask(ceph.origin + path, {method, headers})).status, 403, method);
  }
  assert.equal(await asAna('get', name), line);
});

test('nobody reads without a key', async () => {
  assert.equal((await ask(`${ceph.origin}/${bucket}/${name}`)).status, 403);
  assert.equal((await ask(`${ceph.origin}/${bucket}?list-type=2`)).status, 403);
});

test('each fault has its word', async () => {
  const other = segmentName('ana/d1', 9, 'other');
  const acts = [['list', ''], ['get', name], ['put', other]];
  for (const [act, of] of acts) {
    const wrong = await carry(page, settingsOf('ana', {secret: 'wrong'}), act, of);
    assert.equal(wrong.fault, 'wrong_password', `${act}: ${wrong.detail}`);
    const unknown = await carry(page, settingsOf('ana', {key_id: 'NOBODY'}), act, of);
    assert.equal(unknown.fault, 'wrong_password', `${act}: ${unknown.detail}`);
    for (const minutes of [-20, 20]) {
      const late = await asAna(act, of, {aheadMs: minutes * 60_000});
      assert.equal(late.fault, 'clock', `${act}: ${late.detail}`);
    }
  }
  assert.equal((await asAna('get', other)).fault, 'not_there');
  // This store says nothing to a page from elsewhere about a bucket that has no rules for it.
  const nowhere = await carry(page, settingsOf('ana', {bucket: 'no-such-bucket'}), 'list', '');
  assert.equal(nowhere.fault, 'wrong_password');
  assert.match(nowhere.detail, /bucket/);
  const silent = await carry(page, settingsOf('ana', {address: 'https://localhost:1'}), 'list', '');
  assert.equal(silent.fault, 'offline');
});

test('a clock that is a quarter of an hour wrong does no harm yet', async () => {
  for (const minutes of [-14, 14]) assert.equal(await asAna('get', name, {aheadMs: minutes * 60_000}), line);
});

test('a page from elsewhere that the rules do not name is not let in', async () => {
  const foreign = await serve({dir});
  try {
    const there = await pages.open(foreign.url);
    const {fault, detail} = await carry(there, settingsOf('ana'), 'get', name);
    assert.equal(fault, 'wrong_password');
    assert.match(detail, /CORS/);
    await there.context().close();
  } finally {
    await foreign.close();
  }
});

test('a connection that is cut is offline, not a wrong key; nothing or the whole is there, and the next time does', async () => {
  const proxy = await FaultyProxy.start({port: ceph.port, tls: true}, await ceph.identity());
  try {
    const settings = settingsOf('ana', {address: proxy.origin.replace('localhost', '127.0.0.1')});
    const text = 'x'.repeat(1500);
    const isTo = (/** @type {string} */ method) => (request) => request.method === method && request.url.endsWith('.jsonl');
    for (let at = 1, number = 2000; at < 2400; at += 131, ++number) {
      const of = segmentName('ana/d1', number, text);
      proxy.fault = {when: isTo('PUT'), sendOnly: at};
      assert.equal((await carry(page, settings, 'put', of, {text})).fault, 'offline', `PUT cut at ${at}`);
      proxy.fault = undefined;
      const there = await carry(page, settings, 'get', of);
      assert.ok(there === text || there.fault === 'not_there', `PUT cut at ${at}`);
      assert.equal(await carry(page, settings, 'put', of, {text}), 'put');
      proxy.fault = {when: isTo('GET'), giveOnly: at > 1500 ? -1 : at};
      assert.equal((await carry(page, settings, 'get', of)).fault, 'offline', `GET cut at ${at}`);
      proxy.fault = undefined;
      assert.equal(await carry(page, settings, 'get', of), text);
    }
    for (const [status, fault] of [[500, 'server'], [503, 'server'], [507, 'full'], [413, 'full']]) {
      // The answer of something in between, without the store's CORS headers, is hidden; the store itself is well.
      proxy.fault = {when: isTo('GET'), answer: {status}};
      assert.equal((await carry(page, settings, 'get', name)).fault, 'offline', String(status));
      proxy.fault = {when: isTo('GET'), answer: {status, allow: '*'}};
      assert.equal((await carry(page, settings, 'get', name)).fault, fault, String(status));
    }
  } finally {
    await proxy.end();
  }
});
