/**
 * What a phone downloads: node tests/bench/size.mjs DIST [FONT_DIR [WASM]]
 *
 * DIST is the folder that web/build.mjs wrote. Prints bytes as they are, with gzip 9 and with brotli 11. The first
 * screen of a new phone needs the page, its style, its scripts and the first part of the program; the rest of it, the
 * service worker and the icons come after it.
 * Fonts and tables are inside the program: their lines say what each of them weighs alone. WASM is the folder in which
 * the program was built; with the target bare made there, a page of Dear ImGui and SDL2 that shows a word stands beside.
 */
import {readdir, readFile} from 'node:fs/promises';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {brotliCompressSync, gzipSync} from 'node:zlib';

const [dist, fonts, wasm] = process.argv.slice(2);
if (!dist) {
  console.error('Usage: node tests/bench/size.mjs DIST [FONT_DIR]');
  process.exit(2);
}
const assets = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'assets');

/** @param {string} folder @param {RegExp} pattern */
async function find(folder, pattern) {
  const names = (await readdir(folder)).filter((name) => pattern.test(name)).sort();
  return names.map((name) => join(folder, name));
}

/** Prints the sum over files that are sent one by one. @param {string} label @param {Buffer[]} contents */
function row(label, contents) {
  const sum = (measure) => contents.reduce((total, content) => total + measure(content).length, 0);
  const columns = [sum((content) => content), sum((content) => gzipSync(content, {level: 9})), sum(brotliCompressSync)];
  console.log(label.padEnd(24) + columns.map((bytes) => String(bytes).padStart(11)).join(''));
}

const read = (paths) => Promise.all(paths.map((path) => readFile(path)));
/** As assets/embed.py puts it into the program. */
const withoutWhiteSpace = (content) => Buffer.from(JSON.stringify(JSON.parse(content.toString())));

const parts = {
  'program, first part': await read(await find(dist, /^tawny-first-.*\.wasm$/)),
  'its script': await read(await find(dist, /^tawny-.*\.js$/)),
  'page scripts': await read(await find(dist, /^(main|head)-.*\.js$/)),
  'one language': await read(await find(dist, /^words-en-.*\.json$/)),
  style: await read(await find(dist, /^style-.*\.css$/)),
  page: await read(await find(dist, /^index\.html$/)),
};
console.log(' '.repeat(24) + ['bytes', 'gzip', 'brotli'].map((head) => head.padStart(11)).join(''));
for (const [label, contents] of Object.entries(parts)) row(label, contents);
row('to the first screen', Object.values(parts).flat());
row('program, the rest', await read(await find(dist, /^tawny-rest-.*\.wasm$/)));
row('service worker', await read(await find(dist, /^service-worker\.js$/)));
row('icons, manifest', await read(await find(dist, /\.(png|webmanifest)$/)));
console.log('in the program:');
if (fonts) row('  fonts', await read(await find(fonts, /\.ttf$/)));
row('  five languages', (await read(await find(join(assets, 'languages'), /\.json$/))).map(withoutWhiteSpace));
row('  tables, demo farm', (await read(await find(assets, /\.json$/))).map(withoutWhiteSpace));
if (wasm) {
  console.log('beside it:');
  row('  bare imgui + SDL2', await read(await find(join(wasm, 'tests', 'bench'), /^bare\.(js|wasm)$/)));
}
