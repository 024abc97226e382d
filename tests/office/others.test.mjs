/**
 * lighttpd and nginx, with the settings that their pages in web/office show.
 */
import assert from 'node:assert/strict';
import {readFile} from 'node:fs/promises';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {carry, CarrierPages} from './carrier-pages.mjs';
import {ask, filesIn, OtherServer, segmentName, users} from './servers.mjs';

const line = '{"v":1,"device":"d1","number":1,"note":"água"}\n';
const name = segmentName('ana/d1', 1, line);
let pages;
before(async () => {
  pages = await CarrierPages.start();
});
after(() => pages?.end());

const kinds = [
  {kind: 'lighttpd', keepsWhatIsThere: false, otherFolder: 401},
  {kind: 'nginx', keepsWhatIsThere: true, otherFolder: 403},
];
for (const {kind, keepsWhatIsThere, otherFolder} of kinds) {
  describe(kind, () => {
    let server;
    let page;
    const settingsOf = (user, password = users[user]) => ({
      kind: 'webdav',
      address: `${server.origin}/depot/`,
      writer: user,
      user,
      password,
    });
    const asAna = (act, of, more) => carry(page, settingsOf('ana'), act, of, more);
    const status = async (path, options) => (await ask(server.origin + path, {user: 'ana', ...options})).status;

    before(async () => {
      server = await OtherServer.start(kind);
      page = await pages.open(server.page);
    });
    after(() => server?.end());

    test('what is put, with its folders, is listed and read back by another user, byte for byte', async () => {
      assert.deepEqual(await asAna('list', ''), ['ana/', 'ben/']);
      assert.deepEqual(await asAna('list', 'ana/d1/'), []);
      assert.equal(await asAna('put', name, {text: line}), 'put');
      assert.deepEqual(await asAna('list', 'ana/'), ['ana/d1/']);
      assert.deepEqual(await asAna('list', 'ana/d1/'), ['ana/d1/0/']);
      assert.deepEqual(await carry(page, settingsOf('ben'), 'list', 'ana/d1/0/'), [name]);
      assert.equal(await carry(page, settingsOf('ben'), 'get', name), line);
      assert.equal(await asAna('put', name, {text: line}), 'put');
      assert.equal(await asAna('get', name), line);
    });

    test('each fault has its word', async () => {
      const wrong = settingsOf('ana', 'not-the-password');
      const other = segmentName('ana/d1', 9, 'other');
      for (const [act, of] of [['list', ''], ['get', name], ['put', other]]) {
        assert.equal((await carry(page, wrong, act, of)).fault, 'wrong_password', act);
      }
      assert.equal((await asAna('get', other)).fault, 'not_there');
      const word = otherFolder === 403 ? 'no_right' : 'wrong_password';
      assert.equal((await asAna('put', segmentName('ben/d1', 1, 'x'), {text: 'x'})).fault, word);
      assert.deepEqual(await filesIn(join(server.depot, 'ben')), []);
    });

    test('nobody reads or writes without a password', async () => {
      // nginx looks whether the file is there before it looks at the password.
      const closed = (/** @type {number} */ answer) => [401, 403, 412].includes(answer);
      for (const method of ['GET', 'PROPFIND', 'PUT', 'MKCOL']) {
        for (const who of [{user: undefined}, {password: 'wrong'}]) {
          assert.ok(closed(await status(`/depot/${name}`, {method, body: 'x', ...who})), method);
        }
      }
      assert.equal(await readFile(join(server.depot, name), 'utf8'), line);
    });

    test('no user can delete, move, copy, lock, describe or patch', async () => {
      const headers = {Destination: `${server.origin}/depot/ana/d1/0/9-9-0123456789abcdef.jsonl`};
      for (const method of ['DELETE', 'MOVE', 'COPY', 'LOCK', 'PROPPATCH', 'POST', 'PATCH']) {
        const answer = await status(`/depot/${name}`, {method, headers});
        assert.ok(answer >= 400 && answer < 502, `${method}: ${answer}`);
      }
      const part = {'Content-Range': 'bytes 0-3/100'};
      for (const of of [name, segmentName('ana/d1', 21, 'new')]) {
        const answer = await status(`/depot/${of}`, {method: 'PUT', body: 'part', headers: part});
        assert.ok(answer >= 400 && answer < 502, String(answer));
      }
      assert.deepEqual(await filesIn(server.depot), [name]);
      assert.equal(await readFile(join(server.depot, name), 'utf8'), line);
    });

    test('only names of a depot are taken, and only in the own folder', async () => {
      const wrong = ['ana/d1/0/x.html', 'ana/d1/0/1-1.jsonl', 'ana/1-1-0123456789abcdef.jsonl', 'carl/d1/0/'];
      for (const path of [...wrong, 'ana/../ben/d1/', 'ana%2F..%2Fben/d1/', '/ben/d1/', 'ben/d1/', 'ana/.x/', 'ana/d1/0/y/']) {
        for (const method of ['PUT', 'MKCOL']) {
          const answer = await status(`/depot/${path}`, {method, body: 'x'});
          assert.ok([400, 401, 403, 404].includes(answer), `${method} ${path}: ${answer}`);
        }
      }
      assert.deepEqual(await filesIn(server.depot), [name]);
    });

    test('what is there is not overwritten', {skip: !keepsWhatIsThere && 'lighttpd has no setting for it'}, async () => {
      assert.equal(await status(`/depot/${name}`, {method: 'PUT', body: 'x'}), 412);
      assert.equal(await readFile(join(server.depot, name), 'utf8'), line);
    });

    test('more than any segment needs is refused, and leaves nothing', async () => {
      const big = Buffer.alloc(16 * 1024 * 1024 + 1, 'x');
      // A server may hang up before it has read all of it.
      const answer = await status(`/depot/${segmentName('ana/d1', 41, 'x')}`, {method: 'PUT', body: big}).catch(() => 413);
      assert.equal(answer, 413);
      assert.deepEqual(await filesIn(server.depot), [name]);
    });
  });
}
