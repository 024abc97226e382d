/**
 * The page's storage modules alone, without the program: a blank page on this machine with them on globalThis.page.
 */
import {mkdtemp, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {build} from 'esbuild';
import {serve} from '../../web/serve.mjs';

const source = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'web', 'src');

export async function serveStorePage() {
  const dir = await mkdtemp(join(tmpdir(), 'tawny-store-page-'));
  const modules = ['store', 'witness', 'pen', 'saver', 'persistence'];
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
