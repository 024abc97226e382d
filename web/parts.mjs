/**
 * What the app is made of beside its own code (parts.json), as it really lies on the machine that builds: versions and
 * licence texts are looked up where each part came from, none of them is kept here.
 */
import {execFileSync} from 'node:child_process';
import {readFileSync} from 'node:fs';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';

const here = dirname(fileURLToPath(import.meta.url));

/**
 * @typedef {{in: string, as?: string} | {copyright: string, of: string} | {common: string}} Text `in` is a place and a path,
 *   `as` takes out of it what its brackets hold; `copyright` is a Debian package, `of` a licence as its file names it;
 *   `common` a licence that Debian keeps once for all
 * @typedef {object} Row of parts.json
 * @property {string} name
 * @property {string} licence an SPDX expression
 * @property {string} [type] of CycloneDX; "library" where nothing is said
 * @property {string} [within] the part that brings it
 * @property {string} [debian] source or binary package
 * @property {string} [npm] package
 * @property {{in: string, as: string}} [version] where the package's own would not do
 * @property {Text[]} [texts] of the licence; an npm package brings its own
 *
 * @typedef {object} Part
 * @property {string} name
 * @property {string} licence
 * @property {string} type
 * @property {string} [within]
 * @property {string} version upstream's
 * @property {string} [purl]
 * @property {{alg: string, content: string}} [hash] of the archive that it came in
 * @property {string} text of its licence
 */

/** @param {string} path */
const read = (path) => readFileSync(path, 'utf8');

/** @param {string} text @param {string} pattern @param {string} where */
function taken(text, pattern, where) {
  const found = new RegExp(pattern, 'm').exec(text);
  if (!found) throw new Error(`${where} does not hold ${pattern}`);
  return found.slice(1);
}

/** Paragraphs of a copyright file in Debian's format 1.0, as fields with their lines. @param {string} text */
function paragraphsOf(text) {
  return text.split(/\n\s*\n/).map((paragraph) => {
    /** @type {Record<string, string>} */
    const fields = {};
    let field = '';
    for (const line of paragraph.split('\n')) {
      const begins = /^([\w-]+):\s*(.*)$/.exec(line);
      if (begins) {
        [, field] = begins;
        fields[field] = begins[2];
      } else if (field) {
        fields[field] += `\n${line.replace(/^ ?(\.$)?/, '')}`;
      }
    }
    return fields;
  });
}

/** Whose the package is and under what: of all its files. @param {string} name @param {string} licence */
function debianText(name, licence) {
  const paragraphs = paragraphsOf(read(`/usr/share/doc/${name}/copyright`));
  const all = paragraphs.find(({Files}) => Files?.trim() === '*');
  const stands = (/** @type {Record<string, string>} */ {License}) => License?.startsWith(`${licence}\n`);
  const terms = (all && stands(all) ? all : paragraphs.find((one) => !one.Files && stands(one)))?.License;
  if (!all?.Copyright || !terms) throw new Error(`the copyright file of ${name} does not hold ${licence}`);
  const owners = all.Copyright.split('\n').map((line) => line.trim()).filter(Boolean);
  return `${owners.map((owner) => `Copyright (c) ${owner}`).join('\n')}\n\n${terms.slice(licence.length).trim()}`;
}

/** As in third-party.sh. @param {string} name @returns {{package: string, sha256: string} | undefined} */
function sourcePackage(name) {
  const script = read(join(here, 'third-party.sh'));
  const found = new RegExp(`_package=(${name}=\\S+)[^]*?_sha256=([0-9a-f]{64})`).exec(script);
  return found ? {package: found[1], sha256: found[2]} : undefined;
}

/** Without what Debian puts around it: "1:1.1.0+dfsg2-7.1" is 1.1.0. @param {string} version */
const upstream = (version) => version.replace(/^\d+:/, '').replace(/-[^-]*$/, '').replace(/[+~].*$/, '');

/** @param {string} name @param {string} version @param {string} qualifiers */
const debianUrl = (name, version, qualifiers) => `pkg:deb/debian/${name}@${encodeURIComponent(version)}?${qualifiers}`;

/** @param {string} name @returns {Pick<Part, 'version' | 'purl' | 'hash'>} */
function debianPart(name) {
  const source = sourcePackage(name);
  if (source) {
    const version = source.package.slice(name.length + 1);
    return {version: upstream(version), purl: debianUrl(name, version, 'arch=source'), hash: {alg: 'SHA-256', content: source.sha256}};
  }
  const [version, architecture] = execFileSync('dpkg-query', ['-W', '-f=${Version}\t${Architecture}', name], {encoding: 'utf8'}).split('\t');
  return {version: upstream(version), purl: debianUrl(name, version, `arch=${architecture}`)};
}

/** @param {string} name @param {any} lock @returns {Pick<Part, 'version' | 'purl' | 'hash' | 'text'> & {licence: string}} */
function npmPart(name, lock) {
  const folder = join(here, 'node_modules', name);
  const {version, license} = JSON.parse(read(join(folder, 'package.json')));
  const locked = lock.packages[`node_modules/${name}`];
  if (locked?.version !== version) throw new Error(`${name} ${version} is not what package-lock.json names`);
  const [algorithm, digest] = locked.integrity.split(/-(.*)/);
  return {
    version,
    licence: license,
    purl: `pkg:npm/${name}@${version}`,
    hash: {alg: algorithm.replace(/^sha/, 'SHA-'), content: Buffer.from(digest, 'base64').toString('hex')},
    text: read(join(folder, 'LICENSE')).trim(),
  };
}

/**
 * @param {string} wasm the folder in which the program was built: its CMakeCache.txt says from what
 * @returns {Part[]}
 */
export function partsOf(wasm) {
  const cache = read(join(wasm, 'CMakeCache.txt'));
  const cached = (/** @type {string} */ name) => taken(cache, `^${name}:PATH=(.*)$`, 'CMakeCache.txt')[0];
  /** @type {Record<string, string>} */
  const places = {
    imgui: cached('TAWNY_IMGUI_DIR'),
    sdl2: cached('TAWNY_SDL2_DIR'),
    emscripten: '/usr/share/emscripten/system/lib',
  };
  const whole = (/** @type {string} */ where) => {
    const [place, path] = where.split(/:(.*)/);
    return read(join(places[place], path));
  };
  /** @param {Text} text */
  const textOf = (text) => {
    if ('copyright' in text) return debianText(text.copyright, text.of);
    if ('common' in text) return read(`/usr/share/common-licenses/${text.common}`).trim();
    return (text.as ? taken(whole(text.in), text.as, text.in)[0] : whole(text.in)).trim();
  };
  const lock = JSON.parse(read(join(here, 'package-lock.json')));
  /** @type {Row[]} */
  const rows = JSON.parse(read(join(here, 'parts.json')));
  return rows.map(({name, licence, type = 'library', within, debian, npm, version, texts = []}) => {
    const from = npm ? npmPart(npm, lock) : debian ? debianPart(debian) : {version: '', text: ''};
    if (npm && from.licence !== licence) throw new Error(`${npm} is under ${from.licence}, not ${licence}`);
    const found = version ? taken(whole(version.in), version.as, version.in).join('.') : from.version;
    // Sources of another version than the one that is fetched did not come in that archive.
    const {purl, hash} = found === from.version ? from : {};
    return {name, licence, type, within, version: found, purl, hash, text: [from.text, ...texts.map(textOf)].filter(Boolean).join('\n\n')};
  });
}

/** The npm packages in what esbuild bundled. @param {string[]} inputs paths of its metafile @returns {Set<string>} */
export function npmPackagesIn(inputs) {
  const names = inputs.flatMap((path) => /node_modules\/((?:@[^/]+\/)?[^/]+)\//.exec(path)?.[1] ?? []);
  return new Set(names);
}
