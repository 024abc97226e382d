/**
 * The office's code: a link to this app that carries the settings of the office's folder in its fragment, which no
 * server ever sees. A phone's camera opens it; the page takes it out of the address at once and shows it to the
 * person, who saves it or not.
 */
import {correction, generate} from 'lean-qr';

const kFragment = '#depot=';
/** What such a link may bring (wasm-shell/ui/screens/depot_setup.cpp): other keys are passed over. */
const kKeys = ['kind', 'style', 'address', 'user', 'password', 'bucket', 'region', 'writer', 'key_id', 'secret', 'prefix'];
/** No code that a camera reads holds more. */
const kMostLetters = 4000;

/** @param {string} text */
function toBase64Url(text) {
  const bytes = Array.from(new TextEncoder().encode(text), (byte) => String.fromCharCode(byte));
  return btoa(bytes.join('')).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

/** @param {string} text */
function fromBase64Url(text) {
  const bytes = atob(text.replaceAll('-', '+').replaceAll('_', '/'));
  return new TextDecoder('utf-8', {fatal: true}).decode(Uint8Array.from(bytes, (byte) => byte.charCodeAt(0)));
}

/** @param {string} settings JSON, flat texts @returns {string} */
export function linkOf(settings) {
  return location.href.split(/[?#]/)[0] + kFragment + toBase64Url(settings);
}

/**
 * The code for that link: a row of 0 and 1 for each line of it.
 * @param {string} settings @returns {string} empty when there is too much for a code that a camera still reads
 */
export function codeRows(settings) {
  try {
    const code = generate(linkOf(settings), {minCorrectionLevel: correction.L});
    const across = Array.from({length: code.size}, (_, at) => at);
    return across.map((y) => across.map((x) => (code.get(x, y) ? '1' : '0')).join('')).join('\n');
  } catch {
    return '';
  }
}

/**
 * What a link that was opened brought, taken out of the address.
 * @returns {Record<string, string> | undefined}
 */
export function takeLink() {
  if (!location.hash.startsWith(kFragment)) return undefined;
  const brought = location.hash.slice(kFragment.length);
  history.replaceState(null, '', location.pathname + location.search);
  return settingsIn(brought);
}

/**
 * The settings in a link's fragment. Anybody can write such a link: it is shown to the person before anything is kept.
 * @param {string} brought @returns {Record<string, string> | undefined} undefined when it is none, or too long
 */
export function settingsIn(brought) {
  if (brought.length > kMostLetters) return undefined;
  try {
    const settings = JSON.parse(fromBase64Url(brought));
    if (typeof settings !== 'object' || Array.isArray(settings)) return undefined;
    const given = new Map(Object.entries(settings));
    return Object.fromEntries(kKeys.map((key) => [key, given.get(key)]).filter(([, value]) => typeof value === 'string'));
  } catch {
    return undefined;
  }
}
