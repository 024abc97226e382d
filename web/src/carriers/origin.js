/**
 * Where a depot is, before anything is asked of it.
 */
import {addressOf} from './exchange.js';

/** @typedef {import('./carrier.js').Settings} Settings */

/**
 * Of WebDAV the folder, of S3 the store, with the bucket where it stands in the host's name. Throws a CarryFault when
 * the address is none.
 * @param {Settings} settings @returns {URL}
 */
export function placeOf({kind, address = '', style, bucket = ''}) {
  const place = addressOf(address);
  if (kind === 's3' && style === 'host') place.hostname = `${bucket}.${place.hostname}`;
  return place;
}

// An origin that a Content-Security-Policy takes word by word: a host may hold ";", "," and "*", which there mean
// something else. By TLS, or on this machine itself.
const kPlain = /^(?:https:\/\/[a-z0-9_-]+(?:\.[a-z0-9_-]+)*\.?(?::\d+)?|http:\/\/(?:localhost|127\.0\.0\.1)(?::\d+)?)$/;

/** @param {Partial<Settings>} settings @returns {string} empty where they name no origin that the page may ask */
export function originOf(settings) {
  try {
    const {origin} = placeOf(/** @type {Settings} */ (settings));
    return kPlain.test(origin) ? origin : '';
  } catch {
    return '';
  }
}
