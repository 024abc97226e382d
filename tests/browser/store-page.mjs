/**
 * The page's storage modules alone, without the program: a blank page on this machine with them on globalThis.page.
 */
import {mkdtemp, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {after, afterEach, before} from 'node:test';
import {fileURLToPath} from 'node:url';
import {build} from 'esbuild';
import {serve} from '../../web/serve.mjs';
import {launch} from './harness.mjs';

const source = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'web', 'src');

export async function serveStorePage() {
  const dir = await mkdtemp(join(tmpdir(), 'tawny-store-page-'));
  const modules = ['store', 'store-shape', 'compaction', 'damage', 'new-log', 'witness', 'pen', 'tabs', 'saver', 'persistence'];
  await build({
    stdin: {
      contents: `${modules.map((name) => `export * from './${name}.js';`).join('\n')}`,
      resolveDir: source,
    },
    bundle: true,
    format: 'iife',
    globalName: 'page',
    outfile: join(dir, 'page.js'),
    logLevel: 'error',
  });
  await writeFile(join(dir, 'index.html'), '<!doctype html><title>store</title><script src="page.js"></script>');
  const server = await serve({dir});
  return {
    url: server.url,
    async close() {
      await server.close();
      await rm(dir, {recursive: true, force: true});
    },
  };
}

/**
 * A browser and that page's server for the tests of a file or of a group: made before the first, ended after the last.
 * Each blank page has a browser profile of its own, which ends with its test.
 */
export function useStorePage() {
  /** @type {any[]} */
  const contexts = [];
  const use = {
    /** @type {any} */ browser: undefined,
    /** @type {any} */ server: undefined,
    /** The profile of the last blank page. */
    get context() {
      return contexts[contexts.length - 1];
    },
    async blankPage() {
      contexts.push(await use.browser.newContext());
      const page = await use.context.newPage();
      await page.goto(use.server.url);
      return withEntries(page);
    },
  };
  before(async () => {
    use.server = await serveStorePage();
    use.browser = await launch();
  });
  afterEach(() => Promise.all(contexts.splice(0).map((context) => context.close())));
  after(async () => {
    await use.browser.close();
    await use.server.close();
  });
  return use;
}

/**
 * Puts into a page: entries of a device with a true hash or without, and the lines that the store gives back.
 * @param {import('playwright-core').Page} page
 */
export async function withEntries(page) {
  await page.evaluate(() => {
    // The browser compresses what it stores; these letters do not shrink.
    const noise = (size) => Array.from({length: size}, () => Math.floor(Math.random() * 36).toString(36)).join('');
    globalThis.entry = (number, {device = 'a1', hash = `h${number}`, size = 0} = {}) => ({
      device,
      number,
      hash,
      line: `{"device":"${device}","number":${number},"hash":"${hash}","note":"${noise(size)}"}`,
    });
    globalThis.hashed = async (number, {device = 'a1', note = ''} = {}) => {
      const body = `{"v":1,"farm":"f","device":"${device}","number":${number},"note":"${note}"`;
      const hash = await page.sha256(body);
      return {device, number, hash, line: `${body},"hash":"${hash}"}`};
    };
    globalThis.allLines = async (store) => {
      let text = '';
      for await (const {lines} of store.portions()) text += typeof lines === 'string' ? lines : new TextDecoder().decode(lines);
      return text.split('\n').filter(Boolean);
    };
    /** Numbers of a device's entries, each once. */
    globalThis.numbers = async (store, device = 'a1') => {
      const lines = (await allLines(store)).map((line) => JSON.parse(line));
      return [...new Set(lines.filter((line) => line.device === device).map(({number}) => number))].sort((a, b) => a - b);
    };
    globalThis.counted = async (store, from) => (await store.database()).count(from);
    globalThis.upTo = (last, options) => Array.from({length: last}, (_, i) => entry(i + 1, options));
  });
  return page;
}
