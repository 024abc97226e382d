/**
 * Writes wasm-shell/first-screen.txt, the functions of the part of the program that comes first: node
 * tests/browser/first-screen.mjs BUILD DIST. BUILD is the folder in which the program was built, DIST what web/build.mjs
 * made of it.
 *
 * A program that counts its calls (Binaryen's wasm-split) shows its first screen to new phones of every language and of
 * several shapes; what was called is the list. Dear ImGui and SDL are kept whole: an event of the browser may come at any
 * time. To be run anew when first-visit.test.mjs says that the first screen asked for the rest.
 */
import {execFileSync} from 'node:child_process';
import {mkdtemp, readFile, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {serve} from '../../web/serve.mjs';
import {firstVisits, welcome} from './first-visits.mjs';
import {launch} from './harness.mjs';

const [build, dist] = process.argv.slice(2);
if (!dist) {
  console.error('Usage: node tests/browser/first-screen.mjs BUILD DIST');
  process.exit(2);
}
const list = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'wasm-shell', 'first-screen.txt');
const kAlways = /SDL|Emscripten_|Im[A-Z]/;
const kProfileHead = 8;
const kPage = 65536;

/** The functions that a wasm file defines, by its "name" section. @param {Uint8Array} bytes @returns {string[]} in their order */
function definedFunctions(bytes) {
  const module = new WebAssembly.Module(bytes);
  const imported = WebAssembly.Module.imports(module).filter(({kind}) => kind === 'function').length;
  const [section] = WebAssembly.Module.customSections(module, 'name');
  const data = new Uint8Array(section);
  let at = 0;
  // LEB128, by the WebAssembly Core Specification, "Integers".
  const number = () => {
    for (let value = 0, shift = 0; ; shift += 7) {
      const byte = data[at++];
      value += (byte & 127) * 2 ** shift;
      if (byte < 128) return value;
    }
  };
  const text = () => {
    const size = number();
    return new TextDecoder().decode(data.subarray(at, (at += size)));
  };
  const names = [];
  while (at < data.length) {
    const [kind, size] = [data[at++], number()];
    if (kind !== 1) {
      at += size;
      continue;
    }
    for (let count = number(); count > 0; --count) {
      const index = number() - imported;
      const name = text();
      if (index >= 0) names[index] = name;
    }
  }
  return names;
}

const folder = await mkdtemp(join(tmpdir(), 'tawny-first-screen-'));
const whole = join(build, 'tawny.wasm');
const counting = join(folder, 'counting.wasm');
execFileSync('wasm-split', ['--instrument', '--mvp-features', '--enable-mutable-globals', whole, '-o', counting]);
const body = await readFile(counting);
const names = definedFunctions(await readFile(whole));
const kept = new Set(names.filter((name) => kAlways.test(name)));

const server = await serve({dir: dist});
const browser = await launch();
for (const [name, settings] of Object.entries(firstVisits)) {
  const context = await browser.newContext(settings);
  await context.route(/tawny-first-.*\.wasm$/, (route) => route.fulfill({body, contentType: 'application/wasm'}));
  // Never answered: whatever would come after the first screen does not come.
  await context.route(/tawny-rest-.*\.wasm$/, () => {});
  await context.addInitScript(() => {
    const {instantiate} = WebAssembly;
    WebAssembly.instantiate = async (...given) => (globalThis.counting = await instantiate(...given));
  });
  const page = await context.newPage();
  await page.goto(server.url);
  await welcome(page);
  const profile = Buffer.from(
    await page.evaluate((pageSize) => {
      const {exports} = globalThis.counting;
      const memory = Object.values(exports).find((one) => one instanceof WebAssembly.Memory);
      const start = memory.grow(1) * pageSize;
      const size = exports.__write_profile(start, pageSize);
      return Array.from(new Uint8Array(memory.buffer, start, size));
    }, kPage),
  );
  let calls = 0;
  for (const [i, function_] of names.entries()) {
    if (profile.readUInt32LE(kProfileHead + 4 * i) === 0) continue;
    ++calls;
    kept.add(function_);
  }
  console.log(`${name}: ${calls} functions`);
  await context.close();
}
await browser.close();
await server.close();
await rm(folder, {recursive: true});
await writeFile(list, `${[...kept].sort().join('\n')}\n`);
console.log(`${kept.size} of ${names.length} functions`);
