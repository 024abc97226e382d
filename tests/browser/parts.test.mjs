/**
 * What others made and the app has in it: the bill of materials, the page of licences and the table in DEVELOPERS.md say
 * the same, and it is true of the built files and of where they came from. Needs the folder of the built program beside
 * that of the page (TAWNY_WASM names another).
 */
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {createHash} from 'node:crypto';
import {mkdtemp, readdir, readFile, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, describe, test} from 'node:test';
import {distFolder, Phone} from './harness.mjs';

const root = join(import.meta.dirname, '..', '..');
const dist = distFolder();
const wasm = process.env.TAWNY_WASM ?? join(dist, '..', 'wasm');
const bomName = 'tawny.cdx.json';

/** What the text of each licence has to say. */
const sayings = {
  MIT: /Permission is hereby granted, free of charge,/,
  Unlicense: /free and unencumbered software released into the public domain/,
  Zlib: /This software is provided 'as-is', without any express or implied/,
  'CC0-1.0': /CC0 1\.0 Universal/,
  'OFL-1.1': /Open Font License/,
  NCSA: /Permission is hereby granted, free of charge,/,
  'Apache-2.0': /Apache License\s+Version 2\.0, January 2004/,
  'LLVM-exception': /LLVM Exceptions to the Apache 2\.0 License/,
  ISC: /Permission to use, copy, modify, and\/or distribute this software for any purpose/,
};

let bom;
before(async () => {
  bom = JSON.parse(await readFile(join(dist, bomName), 'utf8'));
});

/** @param {any} component @returns {string} an SPDX expression */
const licenceOf = ({licenses: [only]}) => only.expression ?? only.license.id;

describe('the bill of materials', () => {
  // The CycloneDX 1.5 schema (bom-1.5.schema.json): what it requires, and the patterns of what we use.
  test('keeps to CycloneDX 1.5', () => {
    const only = (/** @type {object} */ object, /** @type {string[]} */ names, /** @type {string[]} */ needed) => {
      assert.deepEqual(Object.keys(object).filter((name) => !names.includes(name)), []);
      assert.deepEqual(needed.filter((name) => !(name in object)), []);
    };
    only(bom, ['bomFormat', 'specVersion', 'serialNumber', 'version', 'metadata', 'components', 'dependencies'],
      ['bomFormat', 'specVersion', 'version']);
    assert.equal(bom.bomFormat, 'CycloneDX');
    assert.equal(bom.specVersion, '1.5');
    assert.match(bom.serialNumber, /^urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/);
    assert.ok(Number.isInteger(bom.version) && bom.version >= 1);
    only(bom.metadata, ['timestamp', 'component'], []);
    const all = [bom.metadata.component, ...bom.metadata.component.components, ...bom.components];
    for (const component of all) {
      only(component, ['type', 'bom-ref', 'name', 'version', 'hashes', 'licenses', 'purl', 'components'], ['type', 'name']);
      assert.ok(['application', 'library', 'file', 'data'].includes(component.type), component.type);
      for (const {alg, content} of component.hashes ?? []) {
        const length = {'SHA-256': 64, 'SHA-512': 128}[alg];
        assert.match(content, new RegExp(`^[0-9a-f]{${length}}$`), component.name);
      }
      if (component.purl) assert.match(component.purl, /^pkg:(?:deb\/debian|npm)\/[a-z0-9.+-]+@[^?\s]+(?:\?arch=\w+)?$/);
    }
    const refs = all.map((component) => component['bom-ref']);
    assert.equal(new Set(refs).size, refs.length, 'each name once');
    for (const {ref, dependsOn} of bom.dependencies) {
      for (const name of [ref, ...dependsOn]) assert.ok(refs.includes(name), name);
    }
    const reached = new Set(bom.dependencies.flatMap(({dependsOn}) => dependsOn));
    assert.deepEqual(bom.components.filter((part) => !reached.has(part['bom-ref'])), []);
  });

  test('names every file that is served, with its hash', async () => {
    const listed = Object.fromEntries(bom.metadata.component.components.map(({name, hashes}) => [name, hashes[0].content]));
    const there = (await readdir(dist)).filter((name) => name !== bomName);
    const hashes = await Promise.all(there.map((name) => readFile(join(dist, name))));
    const real = there.map((name, i) => [name, createHash('sha256').update(hashes[i]).digest('hex')]);
    assert.deepEqual(listed, Object.fromEntries(real));
  });

  test('names every part in the version that was built in', async () => {
    const lock = JSON.parse(await readFile(join(root, 'web/package-lock.json'), 'utf8'));
    const script = await readFile(join(root, 'web/third-party.sh'), 'utf8');
    for (const {name, version, purl, hashes} of bom.components) {
      if (!purl) continue;
      const [, kind, of, encoded, architecture] = /^pkg:(\w+)\/(?:debian\/)?([^@]+)@([^?]+)(?:\?arch=(\w+))?$/.exec(purl);
      const whole = decodeURIComponent(encoded);
      assert.ok(whole.startsWith(version), `${name}: ${version}, ${whole}`);
      if (kind === 'npm') {
        assert.equal(lock.packages[`node_modules/${of}`].version, version, name);
        assert.equal(`sha512-${Buffer.from(hashes[0].content, 'hex').toString('base64')}`, lock.packages[`node_modules/${of}`].integrity);
      } else if (architecture === 'source') {
        assert.ok(script.includes(`_package=${of}=${whole}\n`) && script.includes(`_sha256=${hashes[0].content}\n`), name);
      } else {
        assert.equal(execFileSync('dpkg-query', ['-W', '-f=${Version}', of], {encoding: 'utf8'}), whole, name);
      }
    }
    const direct = Object.keys(JSON.parse(await readFile(join(root, 'web/package.json'), 'utf8')).dependencies);
    assert.deepEqual(direct.filter((name) => !bom.components.some(({purl}) => purl?.startsWith(`pkg:npm/${name}@`))), []);
  });

  test('says what the table for developers says', async () => {
    const text = await readFile(join(root, 'DEVELOPERS.md'), 'utf8');
    const [, table] = /\| in the app \|.*\n\|[ -|]*\n((?:\|.*\n)+)/.exec(text);
    const rows = table.trim().split('\n').map((row) => row.split('|').slice(1, 4).map((cell) => cell.trim()));
    assert.deepEqual(rows, bom.components.map((part) => [part.name, part.version, licenceOf(part)]));
  });

  test('and every other file come out the same, byte for byte, when the page is built again', async () => {
    const again = await mkdtemp(join(tmpdir(), 'tawny-again-'));
    try {
      execFileSync('node', [join(root, 'web/build.mjs'), '--wasm', wasm, '--out', again], {env: {...process.env, TZ: 'Asia/Makassar'}});
      assert.deepEqual(await readdir(again), await readdir(dist));
      for (const name of await readdir(dist)) {
        assert.ok((await readFile(join(again, name))).equals(await readFile(join(dist, name))), name);
      }
    } finally {
      await rm(again, {recursive: true, force: true});
    }
  });
});

describe('the page of licences', () => {
  /** @type {Phone} */
  let phone;
  after(() => phone?.end());

  test('opens from the app with no network, in the app\'s language, and holds every text', async () => {
    phone = await Phone.start({query: '?demo', settings: {locale: 'pt-BR'}});
    assert.equal(await phone.offlineReady(), true);
    await phone.server.close();
    await phone.context.setOffline(true);
    await phone.activate('tab/tab/office');
    await phone.activate('office/about');
    const [page] = await Promise.all([phone.context.waitForEvent('page'), phone.activate('about/licences/read')]);
    await page.locator('#close:not([hidden])').waitFor();
    assert.equal(await page.locator('html').getAttribute('lang'), 'pt-BR');
    assert.equal(await page.locator('h1').innerText(), 'Licenças');
    for (const part of bom.components) {
      const own = page.locator('details', {has: page.locator('summary', {hasText: `${part.name} ${part.version}`})});
      assert.equal(await own.count(), 1, part.name);
      const text = await own.locator('pre').textContent();
      for (const name of licenceOf(part).split(/ (?:OR|AND|WITH) /)) assert.match(text, sayings[name], part.name);
      assert.match(text, /Copyright|public domain/i, part.name);
    }
    // By keys alone: the first part after the key that leads back.
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    assert.ok(await page.locator('pre').first().isVisible());
    const grounds = () => page.evaluate(() => ['body', '#bar'].map((one) => getComputedStyle(document.querySelector(one)).backgroundColor));
    for (const night of [true, false]) {
      await page.evaluate((on) => document.documentElement.classList.toggle('night', on), night);
      const ground = night ? 'rgb(12, 9, 6)' : 'rgb(245, 239, 227)';
      assert.deepEqual(await grounds(), [ground, ground], 'no part of it stays bright by night');
    }
    const closed = page.waitForEvent('close');
    // The page may be gone before it answers; that it closes is what counts.
    await page.locator('#close').click().catch(() => undefined);
    await closed;
    await phone.context.setOffline(false);
  });
});
