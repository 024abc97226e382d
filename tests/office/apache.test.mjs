/**
 * The office on a real Apache, as web/office/set-up makes it: the carriers in a real Chromium, and what users can
 * and cannot do.
 */
import assert from 'node:assert/strict';
import {readFile, stat, writeFile} from 'node:fs/promises';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {endAll} from '../browser/harness.mjs';
import {carry, CarrierPages} from './carrier-pages.mjs';
import {Apache, ask, filesIn, isRoot, segmentName, setUp, users} from './servers.mjs';

/** Where nothing answers. */
const closedPort = 'https://localhost:1';
let apache;
let pages;
let page;
const line = '{"v":1,"device":"d1","number":1,"note":"Secchi 35 cm, água turva"}\n';
const name = segmentName('ana/d1', 1, line);

before(async () => {
  apache = await Apache.start(undefined, ['--carrier', closedPort]);
  pages = await CarrierPages.start();
  page = await pages.open(apache.page);
});
after(() => endAll(() => pages?.end(), () => apache?.end()));

const settingsOf = (user, password = users[user]) => ({
  kind: 'webdav',
  address: `${apache.origin}/depot/`,
  writer: user,
  user,
  password,
});
const asAna = (act, of, more) => carry(page, settingsOf('ana'), act, of, more);

describe('the carrier on Apache', () => {
  test('a new depot holds the users\' folders, and no entries', async () => {
    assert.deepEqual(await asAna('list', ''), ['ana/', 'ben/']);
    assert.deepEqual(await asAna('list', 'ana/'), []);
  });

  test('a folder that nobody has written to is empty', async () => {
    assert.deepEqual(await asAna('list', 'ana/d1/'), []);
    assert.deepEqual(await asAna('list', 'ana/d1/0/'), []);
  });

  test('what is put, with its folders, is listed and read back by another user, byte for byte', async () => {
    assert.equal(await asAna('put', name, {text: line}), 'put');
    assert.deepEqual(await asAna('list', 'ana/'), ['ana/d1/']);
    assert.deepEqual(await asAna('list', 'ana/d1/'), ['ana/d1/0/']);
    assert.deepEqual(await carry(page, settingsOf('ben'), 'list', 'ana/d1/0/'), [name]);
    assert.equal(await carry(page, settingsOf('ben'), 'get', name), line);
    assert.equal(await readFile(join(apache.depot, name), 'utf8'), line);
  });

  test('putting a file that is there is no fault, and does not touch it', async () => {
    const {ino, mtimeMs} = await stat(join(apache.depot, name));
    assert.equal(await asAna('put', name, {text: 'something else'}), 'put');
    assert.equal(await asAna('get', name), line);
    const now = await stat(join(apache.depot, name));
    assert.deepEqual([now.ino, now.mtimeMs], [ino, mtimeMs]);
  });

  test('an empty file, as a loss of power can leave behind, is written again', async () => {
    const torn = segmentName('ana/d1', 7, line);
    assert.equal(await asAna('put', torn, {text: ''}), 'put');
    assert.equal(await asAna('get', torn), '');
    assert.equal(await asAna('put', torn, {text: line}), 'put');
    assert.equal(await asAna('get', torn), line);
  });

  test('what is no segment is not listed', async () => {
    for (const other of ['notes.txt', '1-2.jsonl', '1-1-0123456789ABCDEF.jsonl', '.hidden']) {
      await writeFile(join(apache.depot, 'ana/d1/0', other), 'x');
    }
    const listed = await asAna('list', 'ana/d1/0/');
    assert.ok(listed.every((found) => /^ana\/d1\/0\/\d+-\d+-[0-9a-f]{16}\.jsonl$/.test(found)), listed.join());
    assert.equal(listed.length, 2);
  });

  test('a name outside the grammar never becomes a request', async () => {
    for (const wrong of ['../x', 'ana/../ben/0/1-1-0123456789abcdef.jsonl', 'ana/d1/0/x.jsonl', 'ana//0/', 'a b/']) {
      for (const act of ['list', 'get', 'put']) {
        assert.equal((await asAna(act, wrong)).fault, 'malformed', `${act} ${wrong}`);
      }
    }
  });

  test('each fault has its word', async () => {
    const other = segmentName('ana/d1', 9, 'other');
    const wrong = settingsOf('ana', 'not-the-password');
    for (const [act, of] of [['list', ''], ['get', name], ['put', other]]) {
      assert.equal((await carry(page, wrong, act, of)).fault, 'wrong_password', act);
    }
    assert.equal((await carry(page, settingsOf('nobody', 'x'), 'list', '')).fault, 'wrong_password');
    assert.equal((await asAna('put', segmentName('ben/d1', 1, 'x'), {text: 'x'})).fault, 'no_right');
    assert.equal((await asAna('get', other)).fault, 'not_there');
    const elsewhere = {...settingsOf('ana'), address: `${apache.origin}/deep/`};
    assert.notEqual((await carry(page, elsewhere, 'list', '')).fault, undefined);
    const notDav = {...settingsOf('ana'), address: apache.page};
    assert.equal((await carry(page, notDav, 'list', '')).fault, 'malformed');
    const nowhere = {...settingsOf('ana'), address: `${closedPort}/depot/`};
    assert.equal((await carry(page, nowhere, 'list', '')).fault, 'offline');
    const notAllowed = {...settingsOf('ana'), address: 'https://localhost:2/depot/'};
    assert.equal((await carry(page, notAllowed, 'list', '')).fault, 'barred');
    assert.ok(pages.browser.refusals.splice(0).length > 0, 'set-up was not told of that one');
    for (const address of ['', 'depot', 'ftp://localhost/', 'javascript:alert(1)']) {
      assert.equal((await carry(page, {...settingsOf('ana'), address}, 'list', '')).fault, 'malformed', address);
    }
    assert.equal((await carry(page, {kind: 'pigeon'}, 'list', '')).fault, 'malformed');
  });

  test('an address without its last "/", or with a user in it, does as well', async () => {
    const {host} = new URL(apache.origin);
    for (const address of [`${apache.origin}/depot`, ` https://ana:x@${host}/depot/?a#b `]) {
      assert.deepEqual(await carry(page, {...settingsOf('ana'), address}, 'list', ''), ['ana/', 'ben/'], address);
    }
  });

  test('a certificate that is not trusted looks like no network, and the detail says so', async () => {
    const strict = await pages.open('about:blank', {ignoreHTTPSErrors: false});
    await strict.addScriptTag({path: join(apache.pageDir, 'page.js')});
    const answer = await carry(strict, settingsOf('ana'), 'list', '');
    assert.equal(answer.fault, 'offline');
    assert.match(answer.detail, /certificate/);
    await strict.context().close();
  });
});

describe('rights on Apache', () => {
  const mine = `/depot/ana/d1/0/${name.split('/').pop()}`;
  const fresh = (/** @type {number} */ first) => `/depot/${segmentName('ana/d1', first, String(first))}`;
  const status = async (path, options) => (await ask(apache.origin + path, {user: 'ana', ...options})).status;

  test('the depot wants a user for everything, and gives the same answer to a wrong password', async () => {
    for (const method of ['GET', 'HEAD', 'PROPFIND', 'PUT', 'MKCOL', 'OPTIONS']) {
      assert.equal(await status(mine, {method, user: undefined}), 401, method);
      assert.equal(await status(mine, {method, password: 'wrong'}), 401, method);
    }
  });

  test('no user can delete, move, copy, lock, patch or describe', async () => {
    const headers = {Destination: `${apache.origin}/depot/ana/d1/0/9-9-0123456789abcdef.jsonl`};
    for (const method of ['DELETE', 'MOVE', 'COPY', 'LOCK', 'UNLOCK', 'PROPPATCH', 'PATCH', 'POST', 'TRACE']) {
      assert.equal(await status(mine, {method, headers}), 405, method);
    }
    assert.equal(await readFile(join(apache.depot, name), 'utf8'), line);
  });

  test('another user\'s folder, and any that is nobody\'s, is closed for writing by whatever path', async () => {
    const ways = ['ben/d1/0/1-1-0123456789abcdef.jsonl', 'ana/../ben/d1/0/1-1-0123456789abcdef.jsonl', '/ben/d1/'];
    for (const path of [...ways, 'ben%2Fd1/', 'ana%2F..%2Fben/', 'ana/%2e%2e/ben/d1/', 'Ana/', 'carl/', 'anas/', 'an/']) {
      for (const method of ['PUT', 'MKCOL']) {
        const answer = await status(`/depot/${path}`, {method, body: 'x'});
        assert.ok(answer === 403 || answer === 404, `${method} ${path}: ${answer}`);
      }
    }
    assert.deepEqual((await filesIn(apache.depot)).filter((file) => !file.startsWith('ana/')), []);
  });

  test('only names of a depot are taken', async () => {
    const folder = '/depot/ana/d1/0/';
    const wrong = ['x.html', '.htaccess', '1-1.jsonl', '1-1-0123456789abcdeF.jsonl', '1-1-0123456789abcdef.jsonl.html'];
    for (const file of [...wrong, '1-1-0123456789abcdef.jsonl/', 'index.html', '%00-1-0123456789abcdef.jsonl']) {
      const answer = await status(folder + file, {method: 'PUT', body: 'x'});
      assert.ok(answer === 403 || answer === 404, `PUT ${file}: ${answer}`);
    }
    assert.equal(await status('/depot/ana/1-1-0123456789abcdef.jsonl', {method: 'PUT', body: 'x'}), 403);
    for (const made of ['ana/.x/', 'ana/d1/zero/', 'ana/d1/0/deeper/', 'ana/d 1/']) {
      assert.equal(await status(`/depot/${encodeURI(made)}`, {method: 'MKCOL'}), 403, made);
    }
  });

  test('a part of a file is refused, for a new file and for one that is there', async () => {
    for (const path of [mine, fresh(21)]) {
      const headers = {'Content-Range': 'bytes 0-3/100'};
      assert.equal(await status(path, {method: 'PUT', body: 'part', headers}), 400);
    }
    assert.equal(await readFile(join(apache.depot, name), 'utf8'), line);
    assert.equal(await status(fresh(21)), 404);
  });

  test('a file that is there is not overwritten, whatever the condition', async () => {
    for (const headers of [{}, {'If-Match': '*'}, {Overwrite: 'T'}]) {
      assert.equal(await status(mine, {method: 'PUT', body: 'x', headers}), 412);
    }
    assert.equal(await readFile(join(apache.depot, name), 'utf8'), line);
  });

  test('twenty phones that put the same file at once leave it whole', async () => {
    const path = fresh(31);
    const answers = await Promise.all(Array.from({length: 20}, () => status(path, {method: 'PUT', body: '31'})));
    assert.ok(answers.every((answer) => [201, 204, 412].includes(answer)), answers.join());
    assert.equal((await ask(apache.origin + path, {user: 'ana'})).text, '31');
  });

  test('more than any segment needs is refused, and leaves nothing', async () => {
    const body = Buffer.alloc(16 * 1024 * 1024 + 1, 'x');
    assert.equal(await status(fresh(41), {method: 'PUT', body}), 413);
    assert.equal(await status(fresh(41)), 404);
    const most = body.subarray(1);
    assert.equal(await status(fresh(41), {method: 'PUT', body: most}), 201);
  });

  test('the whole tree is not to be had in one request', async () => {
    assert.equal(await status('/depot/', {method: 'PROPFIND', headers: {Depth: 'infinity'}}), 403);
  });

  test('nothing else of the machine is reachable', async () => {
    for (const path of ['/users', '/tls/trial.key', '/depot/../users', '/tawny/../users', '/locks/', '/server-status']) {
      assert.ok([403, 404].includes(await status(path)), path);
    }
  });

  test('the app needs no password, cannot be written to, and is looked for anew', async () => {
    const {status: code, headers} = await ask(apache.page);
    assert.equal(code, 200);
    assert.equal(headers['cache-control'], 'no-cache');
    // A self-made certificate must not bind a browser to TLS.
    assert.equal(headers['strict-transport-security'], 'max-age=0');
    assert.equal((await ask(`${apache.origin}/`)).headers.location, `${apache.origin}/tawny/`);
    for (const method of ['PUT', 'DELETE', 'PROPFIND', 'POST']) {
      assert.equal(await status('/tawny/index.html', {method, body: 'x'}), 405, method);
    }
    const depot = await ask(apache.origin + mine, {user: 'ana'});
    assert.equal(depot.headers['content-type'], 'text/plain; charset=utf-8');
  });
});

describe('set-up', () => {
  test('keeps users and depot when it is run again, and replaces the app', async () => {
    await writeFile(join(apache.pageDir, 'new.js'), '');
    const {code, said} = await setUp(apache.root, ['--app', apache.pageDir, '--trial', '--port', String(apache.port)]);
    assert.equal(code, 0, said);
    assert.equal(await asAna('get', name), line);
    assert.equal((await ask(`${apache.page}new.js`)).status, 200);
  });

  test('makes a password and prints it once; a forgotten user has no right any more', async () => {
    const {code, out, said} = await setUp(apache.root, ['user', 'carl']);
    assert.equal(code, 0, said);
    assert.match(out, /^[a-z2-9]{20}$/);
    assert.ok(!said.replace(out, '').includes(out));
    assert.match(await readFile(join(apache.root, 'users'), 'utf8'), /^carl:\$2y\$/m);
    const carl = settingsOf('carl', out);
    const own = segmentName('carl/d3', 1, 'c');
    assert.equal(await carry(page, carl, 'put', own, {text: 'c'}), 'put');
    assert.equal((await setUp(apache.root, ['forget', 'carl'])).code, 0);
    assert.equal((await carry(page, carl, 'get', own)).fault, 'wrong_password');
    assert.equal(await asAna('get', own), 'c');
  });

  test('the users\' file is not for everybody to read', async () => {
    assert.equal((await stat(join(apache.root, 'users'))).mode & 0o7, 0);
    assert.equal((await stat(join(apache.root, 'tls'))).mode & 0o77, 0);
  });

  test('refuses names, passwords and places that would not do', async () => {
    for (const parts of [['user', 'a/b'], ['user', '..'], ['user', ''], ['user', 'x'.repeat(65)], ['forget', 'nobody']]) {
      assert.notEqual((await setUp(apache.root, parts)).code, 0, parts.join(' '));
    }
    const short = await setUp(apache.root, ['user', 'dora', '--password-from-stdin'], 'short\n');
    assert.match(short.said, /at least 10/);
    const long = await setUp(apache.root, ['user', 'dora', '--password-from-stdin'], `${'x'.repeat(73)}\n`);
    assert.match(long.said, /at most 72/);
    assert.notEqual((await setUp('/tmp/a b', ['--app', apache.pageDir, '--trial', '--port', '1'])).code, 0);
    assert.notEqual((await setUp(apache.root, ['--app', '/nowhere', '--trial', '--port', '1'])).code, 0);
    assert.notEqual((await setUp(apache.root, ['--app', apache.pageDir, '--port', '1'])).code, 0);
  });

  test('with a real certificate, browsers are told to come by TLS only', async () => {
    const certificate = ['--certificate', join(apache.root, 'tls/trial.pem'), '--key', join(apache.root, 'tls/trial.key')];
    const {code, said} = await setUp(apache.root, ['--app', apache.pageDir, ...certificate, '--port', String(apache.port)]);
    assert.equal(code, 0, said);
    const site = await readFile(join(apache.root, 'site.conf'), 'utf8');
    assert.match(site, /Strict-Transport-Security "max-age=31536000"/);
    assert.doesNotMatch(site, /@[A-Z_]+@/);
  });

  test('runs as root with workers of another user', {skip: !isRoot && 'not root'}, async () => {
    assert.match(await readFile(join(apache.root, 'server.conf'), 'utf8'), /^User www-data$/m);
  });
});
