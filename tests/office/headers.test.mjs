/**
 * What every answer tells the browser to keep the page from: on Apache as set-up makes it, on lighttpd and nginx as their
 * pages in web/office say, and on the server for one's own machine.
 */
import assert from 'node:assert/strict';
import {readdir} from 'node:fs/promises';
import {after, before, describe, test} from 'node:test';
import {pagePolicy} from '../browser/carrier-page.mjs';
import {distFolder} from '../browser/harness.mjs';
import {serve} from '../../web/serve.mjs';
import {Apache, ask, OtherServer, segmentName, setUp} from './servers.mjs';

const always = {
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
};
/** Of what a page could ask a phone for, Tawny asks for its position only. */
const unused = ['accelerometer', 'camera', 'display-capture', 'gyroscope', 'hid', 'magnetometer', 'microphone',
  'midi', 'payment', 'serial', 'usb'];

/** @param {string} policy @returns {Map<string, string>} directives, as the standard (CSP Level 3, 2.2.1) parses them */
function parsedPolicy(policy) {
  const directives = new Map();
  for (const token of policy.split(';')) {
    const [name, ...value] = token.trim().split(/\s+/);
    if (name !== '' && !directives.has(name)) directives.set(name, value.join(' '));
  }
  return directives;
}

/** @param {string} what @param {{headers: any}} answer @returns {Map<string, string>} its policy */
function checkAlways(what, {headers}) {
  for (const [name, value] of Object.entries(always)) assert.equal(headers[name], value, `${what}: ${name}`);
  const permissions = new Map((headers['permissions-policy'] ?? '').split(/,\s*/).map((part) => part.split('=')));
  assert.equal(permissions.get('geolocation'), '(self)', what);
  for (const feature of unused) assert.equal(permissions.get(feature), '()', `${what}: ${feature}`);
  const policy = parsedPolicy(headers['content-security-policy'] ?? '');
  assert.equal(policy.get('frame-ancestors'), "'none'", what);
  return policy;
}

const segment = segmentName('ana/d1', 1, 'x');
const base = {method: 'GET', path: '/tawny/', user: undefined};
/** @type {Record<string, {method?: string, path?: string, user?: string, password?: string, headers?: object,
 *   body?: string}>} */
const depotKinds = {
  'the depot without a password': {path: '/depot/'},
  'the depot with a wrong password': {path: '/depot/', user: 'ana', password: 'wrong'},
  'a listing': {method: 'PROPFIND', path: '/depot/', user: 'ana', headers: {Depth: '1'}},
  'a segment that is put': {method: 'PUT', path: `/depot/${segment}`, user: 'ana', body: 'x'},
  'a segment': {path: `/depot/${segment}`, user: 'ana'},
  'a segment that is not there': {path: `/depot/${segmentName('ana/d1', 9, 'y')}`, user: 'ana'},
  'a name that is none of a depot': {method: 'PUT', path: '/depot/ana/x.html', user: 'ana', body: 'x'},
  'another user\'s folder': {method: 'PUT', path: `/depot/${segmentName('ben/d1', 1, 'x')}`, user: 'ana', body: 'x'},
};
const statuses = {
  'the depot without a password': [401],
  'the depot with a wrong password': [401],
  'a listing': [207],
  'a segment that is put': [200, 201, 204],
  'a segment': [200],
  'a segment that is not there': [404],
  'a name that is none of a depot': [403],
  // lighttpd asks for the password of the other user.
  'another user\'s folder': [401, 403],
};

/** @type {Record<string, () => Promise<any>>} */
const servers = {
  Apache: () => Apache.start(distFolder(), ['--carrier', 'https://store.example', '--carrier', 'https://b.store.example:8443']),
  lighttpd: () => OtherServer.start('lighttpd', distFolder()),
  nginx: () => OtherServer.start('nginx', distFolder()),
  'one\'s own machine': async () => {
    const {url, close} = await serve({dir: distFolder()});
    return {origin: url.slice(0, -1), end: close, isAlone: true};
  },
};

for (const [name, start] of Object.entries(servers)) {
  describe(`on ${name}`, () => {
    let server;
    let files;
    const askFor = ({method, path, ...rest}) => ask(server.origin + path, {...base, method, ...rest});
    const inApp = (/** @type {string} */ file) => `${server.isAlone ? '' : '/tawny'}/${file}`;

    before(async () => {
      server = await start();
      files = await readdir(distFolder());
      if (server.isAlone) return;
      const folders = segment.split('/').slice(0, -1);
      for (let end = 2; end <= folders.length; ++end) {
        await askFor({method: 'MKCOL', path: `/depot/${folders.slice(0, end).join('/')}/`, user: 'ana'});
      }
    });
    after(() => server?.end());

    test('a page may ask this server, and no other but those that it was told of', async () => {
      for (const file of ['', 'index.html', 'report.html']) {
        const answer = await askFor({path: inApp(file)});
        assert.equal(answer.status, 200, file);
        const policy = checkAlways(file, answer);
        if (server.isAlone) continue;
        policy.delete('frame-ancestors');
        const asked = name === 'Apache' ? "'self' https://store.example https://b.store.example:8443" : "'self'";
        const own = parsedPolicy(await pagePolicy()).set('connect-src', asked);
        assert.deepEqual(Object.fromEntries(policy), Object.fromEntries(own), file);
      }
    });

    test('every other file of the app may ask this server only', async () => {
      const kinds = new Set(files.map((file) => file.replace(/^.*\./, '')));
      assert.ok(['js', 'wasm', 'css', 'png', 'json', 'webmanifest'].every((kind) => kinds.has(kind)), [...kinds].join());
      const first = [...kinds].map((kind) => files.find((file) => file.endsWith(`.${kind}`)));
      for (const file of [...first, 'service-worker.js', 'not-there.js'].filter((of) => !of.endsWith('.html'))) {
        const answer = await askFor({path: inApp(file)});
        assert.equal(answer.status, file === 'not-there.js' ? 404 : 200, file);
        const policy = checkAlways(file, answer);
        assert.equal(policy.get('default-src'), "'none'", file);
        assert.equal(policy.get('connect-src'), "'self'", file);
      }
    });

    test('what is neither app nor depot is closed in the same way', async () => {
      for (const {method, path} of [{path: '/'}, {path: '/nothing'}, {method: 'POST', path: inApp('index.html')}]) {
        if (server.isAlone && path === '/') continue;
        checkAlways(path, await askFor({method: method ?? 'GET', path}));
      }
    });

    if (name === 'one\'s own machine') return;
    for (const [what, request] of Object.entries(depotKinds)) {
      test(`${what} is nothing that a browser would run or show`, async () => {
        const answer = await askFor({...base, ...request});
        assert.ok(statuses[what].includes(answer.status), String(answer.status));
        assert.equal(checkAlways(what, answer).get('default-src'), "'none'");
      });
    }
  });
}

test('set-up takes no carrier that is more than an origin', async () => {
  for (const wrong of ['http://store.example', 'https://*', 'https://*.example', "https://a.example;script-src", '*',
    'https://a.example/', 'https://a.example https://b.example', "'unsafe-inline'", '']) {
    const {code} = await setUp('/tmp/none', ['--app', distFolder(), '--trial', '--port', '1', '--carrier', wrong]);
    assert.notEqual(code, 0, wrong);
  }
});
