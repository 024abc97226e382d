/**
 * The key of this install: ECDSA on P-256 with SHA-256, made and kept by the browser. The private part cannot be taken
 * out of it, not even by this page. core/logbook/device_key.h says what is signed, and how the id follows from the key.
 *
 * @typedef {{privateKey: CryptoKey, publicKey: string}} Key `publicKey`: 65 bytes (SEC 1, uncompressed) in hex
 */
const kCurve = {name: 'ECDSA', namedCurve: 'P-256'};
const kSigning = {name: 'ECDSA', hash: 'SHA-256'};

/** Only a secure page has it. */
export const canSign = () => globalThis.crypto?.subtle !== undefined;

/** @param {ArrayBuffer} bytes */
const toHex = (bytes) => Array.from(new Uint8Array(bytes), (byte) => byte.toString(16).padStart(2, '0')).join('');

/** @param {string} hex */
const fromHex = (hex) => Uint8Array.from(hex.match(/../g) ?? [], (digits) => parseInt(digits, 16));

/** @returns {Promise<{id: string, key: Key}>} a new key, and the id of the device that has it */
export async function makeKey() {
  const {privateKey, publicKey} = await crypto.subtle.generateKey(kCurve, false, ['sign', 'verify']);
  const point = await crypto.subtle.exportKey('raw', publicKey);
  const digest = toHex(await crypto.subtle.digest('SHA-256', point));
  return {id: `k-${digest.slice(0, 32)}`, key: {privateKey, publicKey: toHex(point)}};
}

/** @param {Key | undefined} key @param {string} text @returns {Promise<string>} r and s in hex; empty when it failed */
export async function sign(key, text) {
  try {
    if (!key) return '';
    return toHex(await crypto.subtle.sign(kSigning, key.privateKey, new TextEncoder().encode(text)));
  } catch {
    return '';
  }
}

/** @param {string} row "key TAB signature TAB text", all in hex */
async function isGood(row) {
  const [key, signature, text] = row.split('\t').map(fromHex);
  try {
    const imported = await crypto.subtle.importKey('raw', key, kCurve, false, ['verify']);
    return await crypto.subtle.verify(kSigning, imported, signature, text);
  } catch {
    // A point that is not on the curve is no key, and nothing that it signed is good.
    return false;
  }
}

/**
 * @param {string} rows a signature a line, as BrowserPlatform::check_signatures writes it
 * @returns {Promise<string>} 1 or 0 for each; empty when this browser cannot check
 */
export async function check(rows) {
  if (!canSign()) return '';
  const verdicts = await Promise.all(rows.split('\n').filter(Boolean).map(isGood));
  return verdicts.map((good) => (good ? '1' : '0')).join('');
}
