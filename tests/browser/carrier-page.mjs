/**
 * The page's carriers alone, without the program: writes a folder with a page that holds them on globalThis.page,
 * under the same Content-Security-Policy as the app's own page.
 */
import {readFile, writeFile} from 'node:fs/promises';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {build} from 'esbuild';

const web = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'web');

/** What the app's own page says of the requests that it may make. */
export async function pagePolicy() {
  const page = await readFile(join(web, 'page', 'index.html'), 'utf8');
  return /http-equiv="Content-Security-Policy"\s+content="([^"]+)"/.exec(page)[1];
}

/** @param {string} dir */
export async function writeCarrierPage(dir) {
  await build({
    stdin: {contents: "export * from './carrier.js';", resolveDir: join(web, 'src', 'carriers')},
    bundle: true,
    format: 'iife',
    globalName: 'page',
    outfile: join(dir, 'page.js'),
    logLevel: 'error',
  });
  const policy = `<meta http-equiv="Content-Security-Policy" content="${await pagePolicy()}">`;
  await writeFile(
    join(dir, 'index.html'),
    `<!doctype html><html lang="en"><head>${policy}<title>carriers</title><script src="page.js"></script></head></html>`,
  );
}
