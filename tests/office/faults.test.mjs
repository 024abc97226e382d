/**
 * A bad network and a bad server between the page and each real server: each fault has its word, and no server is
 * left with a part of a file.
 */
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {mkdir, readFile, writeFile} from 'node:fs/promises';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {carry, CarrierPages} from './carrier-pages.mjs';
import {FaultyProxy} from './faulty-proxy.mjs';
import {Apache, filesIn, giveToWebServer, isRoot, OtherServer, segmentName, until, users} from './servers.mjs';

const body = (/** @type {number} */ number) => `{"v":1,"number":${number}}\n`.padEnd(1500, 'x');
let pages;
before(async () => {
  pages = await CarrierPages.start();
});
after(() => pages?.end());

const servers = [
  {kind: 'apache', start: () => Apache.start(), everyByte: 23, saysOfFullDisk: ['full']},
  // These two answer 500 when the disk is full, and lighttpd may hang up before the browser has read it.
  {kind: 'lighttpd', start: () => OtherServer.start('lighttpd'), everyByte: 89, saysOfFullDisk: ['server', 'offline']},
  {kind: 'nginx', start: () => OtherServer.start('nginx'), everyByte: 89, saysOfFullDisk: ['server']},
];
for (const {kind, start, everyByte} of servers) {
  describe(`faults before ${kind}`, () => {
    let server;
    let proxy;
    let page;
    let number = 0;
    const nextName = () => segmentName('ana/d1', ++number, body(number));
    const settings = () => ({
      kind: 'webdav',
      address: `${proxy.origin}/depot/`,
      writer: 'ana',
      user: 'ana',
      password: users.ana,
    });
    const act = (what, name, more) => carry(page, settings(), what, name, more);
    const isPut = ({method}) => method === 'PUT';
    const isGet = ({method, url}) => method === 'GET' && url.includes('/depot/');
    const isList = ({method}) => method === 'PROPFIND';
    const isMine = ({url}) => url.includes('/depot/');

    before(async () => {
      server = await start();
      proxy = await FaultyProxy.start(server.upstream, await server.identity());
      page = await pages.open(`${proxy.origin}/tawny/`);
      assert.equal(await act('put', nextName(), {text: body(number)}), 'put');
    });
    after(async () => {
      await proxy?.end();
      await server?.end();
    });

    /** The server has done with a request that was cut: nothing but whole segments is in the folder. */
    const onlyWhole = async () => {
      await until(async () => (await filesIn(server.depot)).every((file) => file.endsWith('.jsonl')), 'the leftovers to go');
      for (const file of await filesIn(server.depot)) {
        const text = await readFile(join(server.depot, file), 'utf8');
        assert.equal(file, segmentName(file.slice(0, 6), Number(/(\d+)-\d+-[^/]*$/.exec(file)[1]), text), 'a part of a file');
      }
    };

    test(`a PUT that is cut at every ${everyByte}th byte leaves nothing or the whole, and does the next time`, async () => {
      proxy.seen = [];
      assert.equal(await act('put', nextName(), {text: body(number)}), 'put');
      const {sent} = proxy.seen[0];
      assert.ok(sent > 1500);
      for (let at = 1; at <= sent; at = at === sent ? sent + 1 : Math.min(at + everyByte, sent)) {
        const name = nextName();
        proxy.fault = {when: isPut, sendOnly: at};
        assert.equal((await act('put', name, {text: body(number)})).fault, 'offline', `cut at ${at}`);
        proxy.fault = undefined;
        await onlyWhole();
        assert.equal(await act('put', name, {text: body(number)}), 'put', `after a cut at ${at}`);
        assert.equal(await act('get', name), body(number));
      }
      await onlyWhole();
    });

    test(`a GET that is cut at every ${everyByte}th byte gives no bytes, and does the next time`, async () => {
      const name = nextName();
      assert.equal(await act('put', name, {text: body(number)}), 'put');
      proxy.seen = [];
      assert.equal(await act('get', name), body(number));
      const {given} = proxy.seen[0];
      assert.ok(given > 1500);
      for (let at = 0; at < given - 8; at += everyByte) {
        proxy.fault = {when: isGet, giveOnly: at};
        const answer = await act('get', name);
        assert.equal(answer.fault, 'offline', `cut at ${at} of ${given}: ${answer}`);
      }
      proxy.fault = {when: isGet, giveOnly: -1};
      assert.equal((await act('get', name)).fault, 'offline');
      proxy.fault = undefined;
      assert.equal(await act('get', name), body(number));
    });

    test('a list that is cut gives no names', async () => {
      proxy.seen = [];
      const whole = await act('list', 'ana/d1/0/');
      const {given} = proxy.seen[0];
      for (const at of [0, 30, Math.floor(given / 2), -1]) {
        proxy.fault = {when: isList, giveOnly: at};
        assert.equal((await act('list', 'ana/d1/0/')).fault, 'offline', `cut at ${at}`);
      }
      proxy.fault = undefined;
      assert.deepEqual(await act('list', 'ana/d1/0/'), whole);
    });

    const words = {
      400: 'malformed',
      401: 'wrong_password',
      403: 'no_right',
      404: 'not_there',
      405: 'malformed',
      413: 'full',
      423: 'server',
      429: 'server',
      500: 'server',
      502: 'server',
      503: 'server',
      507: 'full',
      511: 'malformed',
    };
    test('each status has its word, whatever was asked', async () => {
      const there = segmentName('ana/d1', 1, body(1));
      for (const [status, word] of Object.entries(words)) {
        const fault = {when: isMine, answer: {status: Number(status), type: 'text/html', text: '<h1>no</h1>'}};
        for (const [what, name] of [['get', there], ['put', segmentName('ana/d1', 999, 'x')], ['list', '']]) {
          proxy.fault = fault;
          const answer = await act(what, name, {text: 'x'});
          assert.equal(answer.fault, word, `${what}: ${status}`);
          assert.match(answer.detail, new RegExp(status));
        }
      }
      proxy.fault = {when: isList, answer: {status: 404}};
      assert.deepEqual(await act('list', 'ana/d1/'), []);
      proxy.fault = undefined;
      await onlyWhole();
    });

    test('409 once: the folders are made and it is put; 409 again is the server\'s fault', async () => {
      const name = nextName();
      proxy.fault = {when: isPut, answer: {status: 409}, times: 1};
      assert.equal(await act('put', name, {text: body(number)}), 'put');
      assert.equal(await act('get', name), body(number));
      proxy.fault = {when: isPut, answer: {status: 409}};
      assert.equal((await act('put', name, {text: body(number)})).fault, 'server');
      proxy.fault = undefined;
    });

    test('a folder that may not be made is the fault of that, not of the PUT', async () => {
      const no = {when: ({method}) => method === 'PUT' || method === 'MKCOL', answer: {status: 409}};
      proxy.fault = no;
      assert.equal((await act('put', nextName(), {text: body(number)})).fault, 'malformed');
      proxy.fault = {...no, when: ({method}) => method === 'MKCOL', answer: {status: 403}};
      const fresh = segmentName('ana/d2', 1, 'x');
      const answer = await act('put', fresh, {text: 'x'});
      // nginx makes the folders by itself.
      assert.equal(answer.fault ?? 'put', kind === 'nginx' ? 'put' : 'no_right');
      proxy.fault = undefined;
    });

    test('412: it is there already, and that is fine', async () => {
      const name = nextName();
      assert.equal(await act('put', name, {text: body(number)}), 'put');
      proxy.fault = {when: isPut, answer: {status: 412}};
      assert.equal(await act('put', name, {text: body(number)}), 'put');
      proxy.fault = undefined;
      assert.equal(await act('get', name), body(number));
    });

    test('the login page of a foreign network is no answer, and is not followed', async () => {
      const there = segmentName('ana/d1', 1, body(1));
      const login = {status: 200, type: 'text/html; charset=utf-8', text: '<title>Welcome</title>'};
      const away = {status: 302, location: 'https://localhost:1/login'};
      for (const answer of [login, away, {...away, status: 307}]) {
        for (const what of ['get', 'put', 'list']) {
          proxy.fault = {when: isMine, answer};
          const said = await act(what, what === 'list' ? '' : there, {text: body(1)});
          assert.equal(said.fault, 'malformed', `${what}: ${answer.status}`);
        }
      }
      proxy.fault = undefined;
    });

    test('a list that is not one is refused', async () => {
      for (const text of ['', 'no xml', '<multistatus xmlns="DAV:">', '{"json": true}']) {
        proxy.fault = {when: isList, answer: {status: 207, type: 'application/xml', text}};
        assert.equal((await act('list', '')).fault, 'malformed', text);
      }
      proxy.fault = undefined;
    });

    test('addresses in a list may have any prefix, be whole or not, and be encoded', async () => {
      const listed = (href, inner = '') =>
        `<x:response><x:href>${href}</x:href><x:propstat><x:prop><x:resourcetype>${inner}</x:resourcetype></x:prop></x:propstat></x:response>`;
      const file = '1-1-0123456789abcdef.jsonl';
      const text = `<?xml version="1.0"?><x:multistatus xmlns:x="DAV:">${[
        listed('/depot/ana/d1/0/', '<x:collection/>'),
        listed(`/depot/ana/d1/0/${file}`),
        listed(`http://other.example/depot/ana/d1/0/%32${file.slice(1)}`),
        listed('/depot/ana/d1/0/%zz'),
        listed(`/elsewhere/ana/d1/0/${file}`),
        listed(`/depot/ana/d1/0/../../../ben/d1/0/${file}`),
        listed('/depot/ana/d1/0/.DS_Store'),
        listed('/depot/ana/d1/0/sub/', '<x:collection/>'),
        listed(''),
      ].join('')}</x:multistatus>`;
      proxy.fault = {when: isList, answer: {status: 207, type: 'application/xml', text}};
      assert.deepEqual(await act('list', 'ana/d1/0/'), [`ana/d1/0/${file}`, `ana/d1/0/2${file.slice(1)}`]);
      proxy.fault = undefined;
    });

    test('a server that falls silent is offline, after the patience and not before', async () => {
      const there = segmentName('ana/d1', 1, body(1));
      for (const what of ['get', 'put', 'list']) {
        proxy.fault = {when: isMine, silent: true};
        const said = await act(what, what === 'list' ? '' : there, {text: 'x', patienceMs: 300});
        assert.equal(said.fault, 'offline', what);
        assert.match(said.detail, /no byte/);
      }
      proxy.fault = undefined;
    });

    test('an answer that drips in slowly is waited for', async () => {
      const name = segmentName('ana/d1', 1, body(1));
      const patienceMs = 3000;
      const pieces = 60;
      // All of it takes longer than the patience; no pause does, on a busy machine either.
      proxy.fault = {when: isGet, drip: {bytes: Math.floor(body(1).length / pieces), everyMs: patienceMs / (pieces - 15)}};
      assert.equal(await act('get', name, {patienceMs}), body(1));
      proxy.fault = {when: isGet, drip: {bytes: 200, everyMs: 600}};
      assert.equal((await act('get', name, {patienceMs: 200})).fault, 'offline');
      proxy.fault = undefined;
    });

    test('a person who cancels is told so, not that the network failed', async () => {
      const there = segmentName('ana/d1', 1, body(1));
      for (const [what, name] of [['get', there], ['put', there], ['list', '']]) {
        proxy.fault = {when: isMine, silent: true};
        assert.equal((await act(what, name, {text: body(1), abortAfterMs: 50})).fault, 'cancelled', what);
      }
      proxy.fault = undefined;
      await onlyWhole();
    });

    test('no request carries a cookie or tells where it comes from', async () => {
      await page.evaluate(() => {
        document.cookie = 'taste=sweet; path=/';
      });
      let heard = {};
      proxy.server.once('request', ({headers}) => (heard = headers));
      await act('list', '');
      assert.equal(heard.cookie, undefined);
      assert.equal(heard.referer, undefined);
    });
  });
}

/** A depot on a tiny file system, so that a disk is full in earnest. */
describe('a full disk', {skip: !isRoot && 'only root can mount a small file system'}, () => {
  const writer = 'ana';
  for (const {kind, start, saysOfFullDisk} of servers) {
    test(`${kind}: a full disk is a fault (${saysOfFullDisk.join(' or ')}), leaves no part of a file, and ends when there is room again`, async (t) => {
      const server = await start();
      const mounted = join(server.depot, writer);
      await mkdir(mounted, {recursive: true});
      try {
        execFileSync('mount', ['-t', 'tmpfs', '-o', 'size=256k,mode=755', 'tawny-test', mounted]);
      } catch {
        await server.end();
        t.skip('mount is not allowed here');
        return;
      }
      try {
        await giveToWebServer(mounted);
        const page = await pages.open(server.page);
        const settings = {kind: 'webdav', address: `${server.origin}/depot/`, user: writer, password: users.ana};
        const filler = join(mounted, 'filler');
        await writeFile(filler, Buffer.alloc(200 * 1024));
        const text = 'x'.repeat(100_000);
        const name = segmentName('ana/d1', 1, text);
        const answer = await carry(page, settings, 'put', name, {text});
        assert.ok(saysOfFullDisk.includes(answer.fault), `${answer.fault}: ${answer.detail}`);
        // From another file system nginx copies, and leaves what it copied under a name that is no segment's.
        assert.ok(!(await filesIn(server.depot)).some((file) => file.endsWith('.jsonl')));
        execFileSync('rm', [filler]);
        // A server may hang up after a fault of its own, and take the next request with it; the one after finds a new connection.
        let next = await carry(page, settings, 'put', name, {text});
        if (next.fault === 'offline') next = await carry(page, settings, 'put', name, {text});
        assert.equal(next, 'put');
        assert.equal(await carry(page, settings, 'get', name), text);
      } finally {
        await server.child.kill();
        execFileSync('umount', ['-l', mounted]);
        await server.end();
      }
    });
  }
});
