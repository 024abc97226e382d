/**
 * What comes to the page from outside and means harm: answers of servers, links, files, records of the database. Each
 * is changed by chance from a seed, always the same.
 */
import assert from 'node:assert/strict';
import {webcrypto} from 'node:crypto';
import {mkdtemp, readFile, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {after, before, test} from 'node:test';
import {fileURLToPath} from 'node:url';
import {build} from 'esbuild';
import {serve} from '../../web/serve.mjs';
import {launch, Phone} from './harness.mjs';

globalThis.crypto ??= webcrypto;
const {settingsIn} = await import('../../web/src/depot-link.js');
const {isEntry, isThousand} = await import('../../web/src/store-shape.js');
const {findingOf, readableEntries} = await import('../../web/src/damage.js');

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');

/** The same numbers for the same seed, 0 to below 1: a multiplicative congruential generator modulo 2^31 - 1. */
function chance(seed) {
  let state = (seed % 2147483646) + 1;
  return () => (state = (state * 48271) % 2147483647) / 2147483647;
}
const oneOf = (dice, list) => list[Math.floor(dice() * list.length)];

const kHostile = [
  '../../etc/passwd', '..%2f..%2f', '/', '//other.invalid/', 'https://other.invalid/a/', 'javascript:alert(1)',
  '__proto__', 'constructor', '<img src=x onerror=alert(1)>', '=1+1', '\u202Egnp.txt', '\u0000', '\n', '%s%n', '%',
  '%00', 'a'.repeat(5000), '[[[[', '{"v":1', '',
];

/** One to four pieces of it cut out, doubled, or put in from elsewhere. */
function changed(text, dice, pieces = kHostile) {
  for (let count = 1 + Math.floor(dice() * 4); count > 0; --count) {
    const at = Math.floor(dice() * (text.length + 1));
    const end = Math.min(text.length, at + Math.floor(dice() * 20));
    const what = dice();
    const middle = what < 0.3 ? '' : what < 0.5 ? text.slice(at, end).repeat(2) : oneOf(dice, pieces);
    text = text.slice(0, at) + middle + text.slice(end);
  }
  return text;
}

const toBase64Url = (text) => Buffer.from(text).toString('base64url');

test('a link brings known settings as texts, or nothing', () => {
  const dice = chance(1);
  const good = JSON.stringify({kind: 'webdav', address: 'https://office.invalid/d/', user: 'a1', password: 'p'});
  assert.deepEqual(settingsIn(toBase64Url(good)), JSON.parse(good));
  const keys = ['kind', 'style', 'address', 'user', 'password', 'bucket', 'region', 'writer', 'key_id', 'secret', 'prefix'];
  for (let turn = 0; turn < 2000; ++turn) {
    const brought = dice() < 0.5 ? toBase64Url(changed(good, dice)) : changed(toBase64Url(good), dice);
    const settings = settingsIn(brought);
    if (settings === undefined) continue;
    assert.equal(Object.getPrototypeOf(settings), Object.prototype);
    for (const [key, value] of Object.entries(settings)) {
      assert.ok(keys.includes(key), key);
      assert.equal(typeof value, 'string');
    }
  }
  const other = {known: 'x', 'depot.last': '2026', device: 'd', __proto__: {address: 'x'}, toString: 'y', user: 7};
  assert.deepEqual(settingsIn(toBase64Url(JSON.stringify(other))), {});
  assert.equal(settingsIn(toBase64Url('{"__proto__":{"user":"x"},"user":"y"}')).user, 'y');
  for (const text of ['null', '[]', '["kind"]', '"kind"', '7', '', '[[', '['.repeat(2900)]) {
    assert.ok([undefined, 0].includes(settingsIn(toBase64Url(text)) && Object.keys(settingsIn(toBase64Url(text))).length), text);
  }
  assert.equal(settingsIn(toBase64Url(JSON.stringify({kind: 'a'.repeat(4000)}))), undefined);
});

test('a record of the database is whole, or what is whole in it is read and the rest is named', async () => {
  const dice = chance(2);
  const sha256 = async (text) => Buffer.from(await crypto.subtle.digest('SHA-256', Buffer.from(text))).toString('hex');
  const sealed = async (number) => {
    const body = `{"v":1,"farm":"f","device":"d1","number":${number},"values":{"text":"ao cá"}`;
    return `${body},"hash":"${await sha256(body)}"}`;
  };
  const lines = (await Promise.all([1, 2, 3].map(sealed))).map((line) => line + '\n').join('');
  const record = {device: 'd1', thousand: 0, lines, count: 3, sha256: await sha256(lines)};
  assert.ok(await isThousand(record));
  const values = [undefined, null, true, 7, -1, 1e300, NaN, [], {}, new Date(0), new Uint8Array(3), () => {}, ...kHostile];
  for (let turn = 0; turn < 300; ++turn) {
    const damaged = {...record, lines: dice() < 0.7 ? changed(lines, dice) : lines};
    if (damaged.lines === lines || dice() < 0.3) damaged[oneOf(dice, Object.keys(record))] = oneOf(dice, values);
    const same = Object.keys(record).every((key) => damaged[key] === record[key]);
    // The device is a key of the database; a record with another one is that device's.
    if (await isThousand(damaged)) assert.equal(damaged.lines, lines);
    const {readable, damaged: found} = await findingOf('thousands', ['d1', 0], damaged, 1000);
    for (const entry of readable) assert.ok(isEntry(entry) && lines.includes(entry.line + '\n'), entry.line);
    const there = new Set(readable.map(({number}) => number));
    assert.equal(found.missing.length + there.size, 1000);
    assert.ok(same || found.held > 0);
  }
  for (const value of values) {
    assert.deepEqual(await readableEntries(value), []);
    for (const key of ['device', 'number', 'hash', 'line']) {
      const entry = {device: 'd1', number: 1, hash: 'x', line: 'y', [key]: value};
      const fits = key === 'number' ? Number.isInteger(value) : typeof value === 'string';
      assert.ok(fits || !isEntry(entry), `${key} ${value}`);
    }
  }
  assert.deepEqual(await readableEntries('['.repeat(1_000_000)), []);
});

/** The page's carriers and file reader alone, with a server that answers what the test says. */
let page;
let ending = async () => {};
before(async () => {
  const dir = await mkdtemp(join(tmpdir(), 'tawny-hostile-'));
  await build({
    stdin: {
      contents: "export * from './carriers/carrier.js'; export {textOf} from './pick.js';",
      resolveDir: join(root, 'web', 'src'),
    },
    define: {__TAWNY_TABLES__: '{}', __TAWNY_PAGE_WORDS__: '{}'},
    bundle: true,
    format: 'iife',
    globalName: 'page',
    outfile: join(dir, 'page.js'),
    logLevel: 'error',
  });
  await writeFile(join(dir, 'index.html'), '<!doctype html><title>page</title><script src="page.js"></script>');
  const server = await serve({dir});
  const browser = await launch();
  ending = async () => {
    await browser.close();
    await server.close();
    await rm(dir, {recursive: true, force: true});
  };
  page = await browser.newPage();
  await page.goto(server.url);
  await page.evaluate(() => {
    globalThis.asked = [];
    globalThis.fetch = async (url, {method}) => {
      globalThis.asked.push(`${method} ${url}`);
      return globalThis.answer(String(url));
    };
    globalThis.carriers = {
      webdav: globalThis.page.carrierOf({kind: 'webdav', address: 'https://office.invalid/depot/', user: 'a', password: 'b'}),
      s3: globalThis.page.carrierOf({kind: 's3', address: 'https://office.invalid/', bucket: 'b', region: 'r', key_id: 'k', secret: 's'}),
    };
    globalThis.listing = async (kind, name = '') => {
      try {
        return {names: await globalThis.carriers[kind].list(name)};
      } catch (error) {
        return {fault: error.fault ?? String(error), detail: error.detail ?? ''};
      }
    };
  });
});
after(() => ending());

const kFileName = /^[\w-]{1,64}\/[\w-]{1,64}\/\d{1,7}\/\d{1,10}-\d{1,10}-[0-9a-f]{16}\.jsonl$/;
const kFolderName = /^(?:[\w-]{1,64}\/){1,2}(?:\d{1,7}\/)?$/;
const kSegment = 'a1/a1/0/1-1-b446d466d97e860d.jsonl';

const davOf = (hrefs) =>
  `<?xml version="1.0"?><d:multistatus xmlns:d="DAV:">${hrefs
    .map(
      (href) =>
        `<d:response><d:href>${href}</d:href><d:propstat><d:prop><d:resourcetype>${
          href.endsWith('/') ? '<d:collection/>' : ''
        }</d:resourcetype></d:prop><d:status>HTTP/1.1 200 OK</d:status></d:propstat></d:response>`,
    )
    .join('')}</d:multistatus>`;
const bucketOf = (keys, more = '') =>
  `<?xml version="1.0"?><ListBucketResult xmlns="http://s3.amazonaws.com/doc/2006-03-01/"><Name>b</Name>${more}${keys
    .map((key) => `<Contents><Key>${key}</Key><Size>1</Size></Contents>`)
    .join('')}</ListBucketResult>`;

/** The listings of all these answers. @param {string} kind @param {number} status @param {string[]} texts */
const listings = (kind, status, texts) =>
  page.evaluate(
    async ({kind, status, texts}) => {
      const found = [];
      for (const text of texts) {
        globalThis.answer = async () => new Response(text, {status, headers: {'Content-Type': 'application/xml'}});
        found.push(await globalThis.listing(kind));
      }
      return found;
    },
    {kind, status, texts},
  );

test('a listing gives names of a depot or a fault, whatever the server answers', async () => {
  const hrefs = ['/depot/', '/depot/a1/', `/depot/${kSegment}`, 'https://office.invalid/depot/a2/'];
  const bad = [
    '/depot/../../x', '/depot/%2e%2e/%2e%2e/', '/depot/a1%2f..%2f..%2fx/', 'https://other.invalid/depot/a3/',
    '//other.invalid/depot/', 'javascript:x', '/depot/<![CDATA[a1/]]>', '/depot/a1/\u202E/', '/depot/%00/', '/depot/%/',
    `/depot/${'a'.repeat(65)}/`, `/depot/${kSegment}?x=1`, '/depot/a1/a1/0/1-1-B446D466D97E860D.jsonl', '&amp;', '&#0;',
  ];
  const dice = chance(3);
  const pieces = [...kHostile, ...bad, '<d:response>', '</d:multistatus>', '<d:collection/>', '<Key>', '<Contents>', '&x;'];
  for (const [kind, status, good] of [
    ['webdav', 207, davOf([...hrefs, ...bad])],
    ['s3', 200, bucketOf([kSegment, ...bad.map((name) => name.replace(/^\/depot\//, ''))])],
  ]) {
    const texts = Array.from({length: 250}, () => changed(good, dice, pieces));
    for (const {names, fault} of await listings(kind, status, [good, ...texts])) {
      assert.ok(names !== undefined || fault === 'malformed', fault);
      for (const name of names ?? []) assert.ok(kFileName.test(name) || (kind === 'webdav' && kFolderName.test(name)), name);
    }
    const [first] = await listings(kind, status, [kind === 'webdav' ? davOf(hrefs) : bucketOf([kSegment])]);
    assert.deepEqual(first.names, kind === 'webdav' ? ['a1/', kSegment, 'a2/'] : [kSegment]);
  }
  // Wherever an answer points, the next request goes to the settings' own address.
  const asked = await page.evaluate(() => globalThis.asked);
  for (const one of asked) assert.match(one, /^\w+ https:\/\/office\.invalid\//);
});

test('XML with a document type, of too many bytes, too deep or none at all is refused', async () => {
  const entities = Array.from({length: 9}, (_, i) => `<!ENTITY e${i + 1} "${`&e${i};`.repeat(10)}">`).join('');
  const bomb = `<!DOCTYPE x [<!ENTITY e0 "ha">${entities}]>`;
  const outside = '<!DOCTYPE x [<!ENTITY e9 SYSTEM "https://other.invalid/secret">]>';
  const dav = davOf(['/depot/a1/']).replace(/^<\?xml[^>]*>/, '');
  const texts = [
    bomb + dav.replace('/depot/a1/', '&e9;'),
    outside + dav.replace('/depot/a1/', '&e9;'),
    dav.replace('</d:multistatus>', '') + '<d:response>'.repeat(20_000),
    '<d:x xmlns:d="DAV:">'.repeat(20_000) + '</d:x>'.repeat(20_000),
    '[1,2]',
    '',
    '\u0000',
  ];
  for (const {names, fault} of await listings('webdav', 207, texts)) assert.equal(fault ?? names, 'malformed');
  const padded = await page.evaluate(async (text) => {
    const bytes = new Blob([text, ' '.repeat(9 * 1024 * 1024)]);
    globalThis.answer = async () => new Response(bytes, {status: 207});
    return globalThis.listing('webdav');
  }, davOf(['/depot/a1/']));
  assert.equal(padded.fault, 'malformed');
  const s3 = await listings('s3', 200, [bomb + bucketOf(['&e9;']).replace(/^<\?xml[^>]*>/, ''), '<html/>', '']);
  for (const {fault} of s3) assert.equal(fault, 'malformed');
  const [error] = await listings('s3', 403, [`<Error><Code>SignatureDoesNotMatch</Code><Message>${'m'.repeat(100_000)}</Message></Error>`]);
  assert.equal(error.fault, 'wrong_password');
  assert.ok(error.detail.length < 500);
  assert.deepEqual((await page.evaluate(() => globalThis.asked)).filter((one) => one.includes('other.invalid')), []);
});

test('a listing without end and an answer without end are broken off', async () => {
  const keys = Array.from({length: 1000}, (_, i) => `a1/a1/0/${i + 1}-${i + 1}-b446d466d97e860d.jsonl`);
  const endless = bucketOf(keys, '<IsTruncated>true</IsTruncated><NextContinuationToken>TOKEN</NextContinuationToken>');
  const {fault, pages} = await page.evaluate(async (text) => {
    let pages = 0;
    globalThis.answer = async () => new Response(text.replace('TOKEN', String(++pages)), {status: 200});
    const {fault} = await globalThis.listing('s3');
    return {fault, pages};
  }, endless);
  assert.equal(fault, 'malformed');
  assert.ok(pages > 100 && pages < 400, `${pages} pages`);
  const body = await page.evaluate(async () => {
    let given = 0;
    let cancelled = false;
    const piece = new Uint8Array(1024 * 1024);
    globalThis.answer = async () =>
      new Response(
        new ReadableStream({
          pull(controller) {
            given += piece.length;
            controller.enqueue(piece);
          },
          cancel() {
            cancelled = true;
          },
        }),
        {status: 200},
      );
    try {
      await globalThis.carriers.webdav.get('a1/a1/0/1-1-b446d466d97e860d.jsonl');
      return {fault: 'none', given, cancelled};
    } catch (error) {
      return {fault: error.fault, given, cancelled};
    }
  });
  assert.equal(body.fault, 'malformed');
  assert.ok(body.given < 80 * 1024 * 1024, `${body.given} bytes`);
  assert.ok(body.cancelled, 'the rest is not fetched');
});

test('a file of two gigabytes and a packed one that unpacks to too much are refused, and not read to their end', async () => {
  const answers = await page.evaluate(async () => {
    const words = async (file) => {
      try {
        return `${(await globalThis.page.textOf(file)).length} letters`;
      } catch (error) {
        return error.constructor.name;
      }
    };
    const part = new Blob([new Uint8Array(16 * 1024 * 1024)]);
    const large = new File(Array.from({length: 128}, () => part), 'large.txt');
    // Zeros pack a thousandfold.
    const pack = (stream) => new Response(stream.pipeThrough(new CompressionStream('gzip'))).blob();
    const bomb = await pack(new Blob(Array.from({length: 8}, () => part)).stream());
    const twice = await pack(bomb.stream());
    return {
      size: large.size,
      bombSize: bomb.size,
      large: await words(large),
      bomb: await words(new File([bomb], 'bomb.txt.gz')),
      twice: await words(new File([twice], 'twice.txt.gz')),
      // Packed twice is unpacked once, and is no logbook then.
      cut: await words(new File([bomb.slice(0, 1000)], 'cut.txt.gz')),
    };
  });
  assert.equal(answers.size, 2 * 1024 ** 3);
  assert.ok(answers.bombSize < 200_000, `${answers.bombSize}`);
  assert.equal(answers.large, 'TooLarge');
  assert.equal(answers.bomb, 'TooLarge');
  assert.match(answers.twice, /letters$/);
  assert.equal(answers.cut, 'TypeError');
});

test('the app says in each language that such a file is no logbook, and goes on', async () => {
  const phone = await Phone.start({query: '?demo', time: '2026-11-25T11:20:00Z', settings: {deviceScaleFactor: 1}});
  try {
    for (const language of ['en', 'es', 'id', 'pt-BR', 'vi']) {
      const words = JSON.parse(await readFile(join(root, 'assets', 'languages', `${language}.json`), 'utf8'));
      await phone.page.evaluate((code) => localStorage.setItem('tawny.setting.language', code), language);
      await phone.reload();
      for (const packed of [false, true]) {
        await phone.page.evaluate(async (packed) => {
          document.getElementById('said-now').textContent = '';
          const part = new Blob([new Uint8Array(16 * 1024 * 1024)]);
          const parts = Array.from({length: packed ? 5 : 128}, () => part);
          const stream = () => new Blob(parts).stream().pipeThrough(new CompressionStream('gzip'));
          const file = packed ? [await new Response(stream()).blob()] : parts;
          const dataTransfer = new DataTransfer();
          dataTransfer.items.add(new File(file, packed ? 'farm.txt.gz' : 'farm.txt'));
          dispatchEvent(new DragEvent('drop', {dataTransfer}));
        }, packed);
        await phone.page.waitForFunction(
          (text) => document.getElementById('said-now').textContent === text,
          words['page.too_large'],
        );
      }
      await phone.tap('tab', words['tab.office']);
      await phone.tap('tab', words['tab.rounds']);
    }
    assert.deepEqual(phone.errors, []);
  } finally {
    await phone.end();
  }
});
