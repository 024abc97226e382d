/**
 * The bill of materials of a build, in CycloneDX 1.5: the files that are served, with their hashes, and the parts that are
 * in them. The same build gives the same bytes: its number comes from what it holds, and a time stands in it only
 * where SOURCE_DATE_EPOCH gives one.
 */
import {createHash} from 'node:crypto';

/** @param {string | Uint8Array} content */
const sha256 = (content) => createHash('sha256').update(content).digest('hex');

/** @param {string} licence an SPDX expression */
const licensesOf = (licence) => [/ /.test(licence) ? {expression: licence} : {license: {id: licence}}];

/** A name by which the document speaks of a part. @param {string} name */
const refOf = (name) => `part:${name.toLowerCase().replaceAll(/[^a-z0-9]+/g, '-')}`;

/** Of RFC 9562, version 8: from the content alone. @param {string} content */
function uuidOf(content) {
  const hex = sha256(content).slice(0, 32).split('');
  hex[12] = '8';
  hex[16] = '89ab'[Number.parseInt(hex[16], 16) & 3];
  return hex.join('').replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-');
}

/**
 * @param {string} version of the app @param {import('./parts.mjs').Part[]} parts
 * @param {{name: string, content: Uint8Array}[]} files
 * @param {string | undefined} epoch_s SOURCE_DATE_EPOCH, seconds since 1970
 */
export function billOfMaterials(version, parts, files, epoch_s) {
  const app = {
    type: 'application',
    'bom-ref': 'tawny',
    name: 'Tawny',
    version,
    components: files.map(({name, content}) => ({
      type: 'file',
      'bom-ref': `file:${name}`,
      name,
      hashes: [{alg: 'SHA-256', content: sha256(content)}],
    })),
  };
  const components = parts.map(({name, version: of, licence, type, purl, hash}) => ({
    type,
    'bom-ref': refOf(name),
    name,
    version: of,
    ...(hash ? {hashes: [hash]} : {}),
    licenses: licensesOf(licence),
    ...(purl ? {purl} : {}),
  }));
  const within = (/** @type {string | undefined} */ whole) =>
    parts.filter((part) => part.within === whole).map(({name}) => refOf(name));
  const dependencies = [
    {ref: 'tawny', dependsOn: within(undefined)},
    ...parts.map(({name}) => ({ref: refOf(name), dependsOn: within(name)})),
  ];
  const timestamp = epoch_s ? {timestamp: new Date(Number(epoch_s) * 1000).toISOString()} : {};
  const rest = {version: 1, metadata: {...timestamp, component: app}, components, dependencies};
  const serialNumber = `urn:uuid:${uuidOf(JSON.stringify(rest))}`;
  return {bomFormat: 'CycloneDX', specVersion: '1.5', serialNumber, ...rest};
}
