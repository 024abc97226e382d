/**
 * What the forecasts cost, natively and as wasm in Chromium: node tests/bench/outlook.mjs NATIVE WASM [PONDS]
 *
 * NATIVE is the build folder of the native program, WASM that of the wasm tests (emcmake, -DTAWNY_WASM_TESTS=ON); the
 * target outlook_bench makes the program in both. Needs the npm packages of tests/browser. Both print the same sum of
 * medians when both reckon the same.
 */
import {execFileSync} from 'node:child_process';
import {copyFile, mkdtemp, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {launch} from '../browser/harness.mjs';
import {serve} from '../../web/serve.mjs';

const [native, wasm, ponds = '100'] = process.argv.slice(2);
if (!wasm) {
  console.error('Usage: node tests/bench/outlook.mjs NATIVE WASM [PONDS]');
  process.exit(2);
}

const page = `<!doctype html><title>outlook_bench</title><script>
  globalThis.said = new Promise((done) => {
    const lines = [];
    globalThis.Module = {
      arguments: ['${Number(ponds)}'],
      print: (line) => lines.push(line),
      onExit: () => done(lines.join('\\n')),
      onAbort: (why) => done('it broke off: ' + why),
    };
    addEventListener('error', () => done('it did not start'), true);
  });
</script><script src="outlook_bench.js"></script>`;

/** What the program prints in a browser. */
async function inChromium() {
  const dir = await mkdtemp(join(tmpdir(), 'outlook-bench-'));
  for (const name of ['outlook_bench.js', 'outlook_bench.wasm']) await copyFile(join(wasm, 'tests', name), join(dir, name));
  await writeFile(join(dir, 'index.html'), page);
  const server = await serve({dir});
  const browser = await launch();
  try {
    const tab = await browser.newPage();
    await tab.goto(server.url);
    return await tab.evaluate(() => globalThis.said);
  } finally {
    await browser.close();
    await server.close();
    await rm(dir, {recursive: true});
  }
}

console.log('native');
console.log(execFileSync(join(native, 'tests', 'outlook_bench'), [ponds], {encoding: 'utf8'}));
console.log('wasm in Chromium');
console.log(await inChromium());
