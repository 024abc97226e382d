/**
 * From a file of lines to the states of its ponds as wasm in Chromium: node tests/bench/farm.mjs WASM FILE SIZE...
 *
 * WASM is the build folder of the wasm tests (emcmake, -DTAWNY_WASM_TESTS=ON) with the target farm_bench made. Prints
 * what farm_bench prints (tests/bench/farm_bench_main.cpp), each size in a page of its own. Needs the npm packages of
 * tests/browser.
 */
import {copyFile, mkdtemp, rm, symlink, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join, resolve} from 'node:path';
import {launch} from '../browser/harness.mjs';
import {serve} from '../../web/serve.mjs';

const [wasm, file, ...sizes] = process.argv.slice(2);
if (sizes.length === 0) {
  console.error('Usage: node tests/bench/farm.mjs WASM FILE SIZE...');
  process.exit(2);
}

const page = `<!doctype html><title>farm_bench</title><script>
  globalThis.said = new Promise((done) => {
    const lines = [];
    globalThis.Module = {
      arguments: ['/lines', location.hash.slice(1)],
      preRun: [() => {
        Module.addRunDependency('lines');
        fetch('lines.txt').then((answer) => answer.arrayBuffer()).then((bytes) => {
          FS.writeFile('/lines', new Uint8Array(bytes));
          Module.removeRunDependency('lines');
        });
      }],
      print: (line) => lines.push(line),
      onExit: () => done(lines.join('\\n')),
      onAbort: (why) => done('it broke off: ' + why),
    };
    addEventListener('error', () => done('it did not start'), true);
  });
</script><script src="farm_bench.js"></script>`;

const dir = await mkdtemp(join(tmpdir(), 'farm-bench-'));
for (const name of ['farm_bench.js', 'farm_bench.wasm']) await copyFile(join(wasm, 'tests', name), join(dir, name));
await symlink(resolve(file), join(dir, 'lines.txt'));
await writeFile(join(dir, 'index.html'), page);
const server = await serve({dir});
const browser = await launch();
try {
  for (const size of sizes) {
    const tab = await browser.newPage();
    await tab.goto(`${server.url}#${size}`);
    console.log(await tab.evaluate(() => globalThis.said));
    await tab.close();
  }
} finally {
  await browser.close();
  await server.close();
  await rm(dir, {recursive: true});
}
