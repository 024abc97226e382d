/**
 * Builds the page around the program: node web/build.mjs --wasm DIR --out DIST
 *
 * DIR is the folder in which the program was built, with tawny.js, tawny-first.wasm and tawny-rest.wasm. DIST is
 * emptied first. Files that the page loads carry a hash of their content in their names, so that no cache can mix two
 * versions. The same sources give the same files, byte for byte.
 */
import {execFileSync} from 'node:child_process';
import {createHash} from 'node:crypto';
import {mkdir, readdir, readFile, rm, writeFile} from 'node:fs/promises';
import {dirname, join, parse} from 'node:path';
import {fileURLToPath} from 'node:url';
import {parseArgs} from 'node:util';
import {build, transform} from 'esbuild';
import {injectManifest} from 'workbox-build';
import {billOfMaterials} from './bom.mjs';
import {licencesHtml} from './licences.mjs';
import {npmPackagesIn, partsOf} from './parts.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const ground = '#f5efe3';

const {values: options} = parseArgs({options: {wasm: {type: 'string'}, out: {type: 'string'}}});
if (!options.wasm || !options.out) {
  console.error('Usage: node web/build.mjs --wasm DIR --out DIST');
  process.exit(2);
}
const dist = options.out;
const parts = partsOf(options.wasm);
const bomName = 'tawny.cdx.json';
/** @type {Set<string>} npm packages of which something is in the scripts */
const bundled = new Set();

/** @param {string | Uint8Array} content */
const hashOf = (content) => createHash('sha256').update(content).digest('hex').slice(0, 8);

/** Writes a file under a name that carries its hash; gives that name. @param {string} name @param {string | Uint8Array} content */
async function emit(name, content) {
  const {name: stem, ext} = parse(name);
  const hashed = `${stem}-${hashOf(content)}${ext}`;
  await writeFile(join(dist, hashed), content);
  return hashed;
}

/** @type {import('esbuild').CommonOptions} */
const small = {
  minify: true,
  target: ['chrome90', 'firefox90', 'safari15'],
  charset: 'utf8',
  legalComments: 'none',
};

/** @param {string} source @param {import('esbuild').BuildOptions} more */
async function bundle(source, more) {
  const result = await build({
    entryPoints: [join(here, source)],
    bundle: true,
    write: false,
    metafile: true,
    ...small,
    ...more,
  });
  for (const name of npmPackagesIn(Object.keys(result.metafile.inputs))) bundled.add(name);
  return result.outputFiles[0].text;
}

/** @param {string} name @param {number} size @param {number} margin px of ground on every side */
function renderIcon(name, size, margin) {
  const inner = String(size - 2 * margin);
  execFileSync('rsvg-convert', [
    `--width=${inner}`,
    `--height=${inner}`,
    `--page-width=${size}`,
    `--page-height=${size}`,
    `--left=${margin}`,
    `--top=${margin}`,
    `--background-color=${ground}`,
    `--stylesheet=${join(here, 'page', 'icon.css')}`,
    `--output=${join(dist, name)}`,
    join(here, '..', 'assets', 'app-icon.svg'),
  ]);
}

/**
 * Writes one file for each language, and keeps the page's own words ("page.*") for the page's script, those of a
 * report's tab ("page.report.*") and of the licences ("page.licences.*") for the scripts there.
 * @typedef {Record<string, Record<string, string>>} WordsByLanguage
 * @returns {Promise<{tables: Record<string, string>, pageWords: WordsByLanguage, reportWords: WordsByLanguage,
 *   licenceWords: WordsByLanguage}>}
 */
async function emitLanguages() {
  const folder = join(here, '..', 'assets', 'languages');
  /** @type {Record<string, string>} */
  const tables = {};
  /** @type {WordsByLanguage} */
  const pageWords = {};
  /** @type {WordsByLanguage} */
  const reportWords = {};
  /** @type {WordsByLanguage} */
  const licenceWords = {};
  for (const file of (await readdir(folder)).filter((name) => name.endsWith('.json')).sort()) {
    const code = parse(file).name;
    const all = Object.entries(JSON.parse(await readFile(join(folder, file), 'utf8')));
    const isOfPage = ([id]) => id.startsWith('page.');
    const isOfReport = ([id]) => id.startsWith('page.report.');
    const isOfLicences = ([id]) => id.startsWith('page.licences.');
    const isOfApp = (entry) => isOfPage(entry) && !isOfReport(entry) && !isOfLicences(entry);
    pageWords[code] = Object.fromEntries(all.filter(isOfApp));
    reportWords[code] = Object.fromEntries(all.filter(isOfReport));
    licenceWords[code] = Object.fromEntries(all.filter(isOfLicences));
    const rest = Object.fromEntries(all.filter((entry) => !isOfPage(entry)));
    tables[code] = await emit(`words-${code}.json`, JSON.stringify(rest));
  }
  return {tables, pageWords, reportWords, licenceWords};
}

const webManifest = {
  name: 'Tawny',
  short_name: 'Tawny',
  description: 'Filling and fertilizing an open shrimp pond in stages, with no network',
  id: './',
  start_url: './',
  scope: './',
  display: 'standalone',
  background_color: ground,
  theme_color: ground,
  share_target: {
    action: './share',
    method: 'POST',
    enctype: 'multipart/form-data',
    params: {files: [{name: 'file', accept: ['text/plain', '.txt', '.jsonl', 'application/gzip', '.gz']}]},
  },
  icons: [
    {src: 'icon-192.png', sizes: '192x192', type: 'image/png'},
    {src: 'icon-512.png', sizes: '512x512', type: 'image/png'},
    {src: 'icon-maskable-512.png', sizes: '512x512', type: 'image/png', purpose: 'maskable'},
  ],
};

await rm(dist, {recursive: true, force: true});
await mkdir(dist, {recursive: true});

const {version} = JSON.parse(await readFile(join(here, 'package.json'), 'utf8'));
const first = await emit('tawny-first.wasm', await readFile(join(options.wasm, 'tawny-first.wasm')));
const rest = await emit('tawny-rest.wasm', await readFile(join(options.wasm, 'tawny-rest.wasm')));
const glue = await transform(await readFile(join(options.wasm, 'tawny.js'), 'utf8'), small);
const script = await emit('tawny.js', glue.code);
const style = await emit('style.css', await bundle('page/style.css', {}));
const head = await emit(
  'head.js',
  await bundle('src/head.js', {format: 'iife', define: {__TAWNY_REST__: JSON.stringify(rest)}}),
);
const {tables, pageWords, reportWords, licenceWords} = await emitLanguages();
const pageSources = await bundle('src/main.js', {format: 'esm', minify: false});
const appVersion = `${version} (${hashOf([first, rest, script, style, pageSources, ...Object.values(tables)].join())})`;
const main = await emit(
  'main.js',
  await bundle('src/main.js', {
    format: 'esm',
    define: {
      __TAWNY_SCRIPT__: JSON.stringify(script),
      __TAWNY_FIRST__: JSON.stringify(first),
      __TAWNY_REST__: JSON.stringify(rest),
      __TAWNY_TABLES__: JSON.stringify(tables),
      __TAWNY_PAGE_WORDS__: JSON.stringify(pageWords),
      __TAWNY_VERSION__: JSON.stringify(appVersion),
    },
  }),
);

const reportStyle = await emit('report.css', await bundle('../assets/report.css', {}));
const barStyle = await emit('report-bar.css', await bundle('page/report-bar.css', {}));
const report = await emit(
  'report.js',
  await bundle('src/report.js', {
    format: 'esm',
    target: 'es2022',
    define: {__TAWNY_REPORT_WORDS__: JSON.stringify(reportWords)},
  }),
);
const reportPage = (await readFile(join(here, 'page', 'report.html'), 'utf8'))
  .replace('%REPORT_STYLE%', reportStyle)
  .replace('%BAR_STYLE%', barStyle)
  .replace('%REPORT%', report);
await writeFile(join(dist, 'report.html'), reportPage);

const licencesStyle = await emit('licences.css', await bundle('page/licences.css', {}));
const licences = await emit(
  'licences.js',
  await bundle('src/licences.js', {format: 'esm', define: {__TAWNY_LICENCE_WORDS__: JSON.stringify(licenceWords)}}),
);
const licencesPage = (await readFile(join(here, 'page', 'licences.html'), 'utf8'))
  .replace('%STYLE%', licencesStyle)
  .replace('%BAR_STYLE%', barStyle)
  .replace('%LICENCES%', licences)
  .replace('%PARTS%', () => licencesHtml(parts));
await writeFile(join(dist, 'licences.html'), licencesPage);

const page = (await readFile(join(here, 'page', 'index.html'), 'utf8'))
  .replace('%STYLE%', style)
  .replace('%HEAD%', head)
  .replace('%MAIN%', main)
  .replace('%WASM%', first);
await writeFile(join(dist, 'index.html'), page);
await writeFile(join(dist, 'manifest.webmanifest'), JSON.stringify(webManifest));
renderIcon('icon-192.png', 192, 16);
renderIcon('icon-512.png', 512, 43);
// A mask may cut to a circle of 80 % of the width.
renderIcon('icon-maskable-512.png', 512, 96);

// injectManifest wants a file; the worker is bundled first and the list put in its place.
const worker = join(dist, 'service-worker.js');
await writeFile(
  worker,
  await bundle('src/service-worker.js', {format: 'iife', define: {'process.env.NODE_ENV': '"production"'}}),
);
const {count, size, warnings} = await injectManifest({
  swSrc: worker,
  swDest: worker,
  globDirectory: dist,
  globPatterns: ['**/*.{html,js,json,css,wasm,png,webmanifest}'],
  globIgnores: ['service-worker.js'],
  dontCacheBustURLsMatching: /-[0-9a-f]{8}\.\w+$/,
  maximumFileSizeToCacheInBytes: 16 * 1024 * 1024,
});
if (warnings.length > 0) {
  console.error(warnings.join('\n'));
  process.exit(1);
}
const unlisted = [...bundled].filter((name) => !parts.some(({purl}) => purl?.startsWith(`pkg:npm/${name}@`)));
if (unlisted.length > 0) {
  console.error(`In the scripts, but not in web/parts.json: ${unlisted.join(', ')}`);
  process.exit(1);
}
const names = (await readdir(dist)).sort();
const files = await Promise.all(names.map(async (name) => ({name, content: await readFile(join(dist, name))})));
const bom = billOfMaterials(appVersion, parts, files, process.env.SOURCE_DATE_EPOCH);
await writeFile(join(dist, bomName), `${JSON.stringify(bom, null, 1)}\n`);
console.log(`${count} files, ${Math.round(size / 1024)} kB, in ${dist}`);
