/**
 * The office's code: a link to this app that carries the settings of the office's folder in its fragment, which no
 * server ever sees. A phone's camera opens it; the page takes it out of the address at once and shows it to the
 * person, who saves it or not.
 */
import {correction, generate} from 'lean-qr';

const kFragment = '#depot=';

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
  try {
    const settings = JSON.parse(fromBase64Url(brought));
    const texts = Object.entries(settings).filter(([, value]) => typeof value === 'string');
    return Object.fromEntries(/** @type {[string, string][]} */ (texts));
  } catch {
    return undefined;
  }
}
