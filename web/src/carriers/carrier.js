/**
 * What carries files between this phone and the office's depot. A carrier lists, gets and puts, and throws a
 * CarryFault; it decides nothing. Needs a page: it reads XML with the browser's DOMParser.
 */
import {CarryFault} from './exchange.js';
import {makeCarrier as makeS3} from './s3.js';
import {makeCarrier as makeWebDav} from './webdav.js';

/**
 * Flat texts, as a person types them or a QR code brings them.
 * @typedef {object} Settings
 * @property {string} kind 'webdav' or 's3'
 * @property {string} [address] WebDAV: of the depot's folder; S3: of the endpoint
 * @property {string} [writer] the folder under which this install may write
 * @property {string} [user] WebDAV
 * @property {string} [password] WebDAV
 * @property {string} [region] S3, and all that follow
 * @property {string} [bucket]
 * @property {string} [style] 'path' or 'host': where the bucket's name stands in an address
 * @property {string} [key_id]
 * @property {string} [secret]
 * @property {string} [prefix] of the depot within the bucket; may be empty
 *
 * @typedef {object} More for tests, mostly
 * @property {number} [patienceMs] without a byte
 * @property {() => number} [now] the clock that signs, milliseconds since 1970
 *
 * @typedef {object} Carrier
 * @property {(name: string, signal?: AbortSignal) => Promise<string[]>} list what is in a folder, as names from the
 *   depot's root; a folder ends with "/", the root is "". An S3 store gives deeper files at once, and no folders.
 * @property {(name: string, signal?: AbortSignal) => Promise<Uint8Array>} get
 * @property {(name: string, bytes: Uint8Array, signal?: AbortSignal) => Promise<void>} put done says only that the
 *   server took it: read it back
 */

export {CarryFault};

/** @param {Settings} settings @param {More} [more] @returns {Carrier} throws a CarryFault when they make no sense */
export function carrierOf(settings, more) {
  if (settings.kind === 'webdav') return makeWebDav(settings, more);
  if (settings.kind === 's3') return makeS3(settings, more);
  throw new CarryFault('malformed', `no carrier is called "${settings.kind}"`);
}
