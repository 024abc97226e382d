/**
 * Signs a request to an S3-compatible store: AWS Signature Version 4, the whole body in one piece, in the
 * Authorization header. Amazon S3 API Reference, "Signature Calculations for the Authorization Header: Transferring
 * Payload in a Single Chunk".
 */

/** @typedef {{keyId: string, secret: string, region: string}} Key */

const encoder = new TextEncoder();

/** @param {ArrayBuffer} buffer */
const hex = (buffer) => Array.from(new Uint8Array(buffer), (byte) => byte.toString(16).padStart(2, '0')).join('');

/** @param {string | Uint8Array} data */
export async function sha256Hex(data) {
  const bytes = typeof data === 'string' ? encoder.encode(data) : data;
  return hex(await crypto.subtle.digest('SHA-256', /** @type {BufferSource} */ (bytes)));
}

/** @param {BufferSource} key @param {string} text */
async function hmac(key, text) {
  const imported = await crypto.subtle.importKey('raw', key, {name: 'HMAC', hash: 'SHA-256'}, false, ['sign']);
  return crypto.subtle.sign('HMAC', imported, encoder.encode(text));
}

/** Everything but A-Z a-z 0-9 - . _ ~ as %XX. @param {string} text */
export const encoded = (text) =>
  encodeURIComponent(text).replace(/[!'()*]/g, (letter) => `%${letter.charCodeAt(0).toString(16).toUpperCase()}`);

/** The query in the one form that both sides sign. @param {Record<string, string>} query */
export function queryOf(query) {
  return Object.entries(query)
    .map(([name, value]) => [encoded(name), encoded(value)])
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map((pair) => pair.join('='))
    .join('&');
}

/** 2013-05-24T00:00:00.000Z as 20130524T000000Z. @param {number} time milliseconds since 1970 */
const compact = (time) => new Date(time).toISOString().replace(/[-:]|\.\d{3}/g, '');

/**
 * The headers that the request needs beside its own; `host` is signed and left to the browser to send.
 * @param {{method: string, host: string, path: string, query?: Record<string, string>,
 *   headers?: Record<string, string>, body?: string | Uint8Array}} request `path` encoded, beginning with "/"
 * @param {Key} key
 * @param {number} time milliseconds since 1970
 * @returns {Promise<Record<string, string>>}
 */
export async function signed({method, host, path, query = {}, headers = {}, body = ''}, key, time) {
  const date = compact(time);
  const day = date.slice(0, 8);
  const bodyHash = await sha256Hex(body);
  /** @type {Record<string, string>} */
  const own = {'x-amz-content-sha256': bodyHash, 'x-amz-date': date};
  const all = Object.entries({...headers, ...own, host})
    .map(([name, value]) => [name.toLowerCase(), value.trim().replace(/ +/g, ' ')])
    .sort(([a], [b]) => (a < b ? -1 : 1));
  const names = all.map(([name]) => name).join(';');
  const lines = all.map(([name, value]) => `${name}:${value}\n`).join('');
  const canonical = [method, path, queryOf(query), lines, names, bodyHash].join('\n');
  const scope = `${day}/${key.region}/s3/aws4_request`;
  const toSign = ['AWS4-HMAC-SHA256', date, scope, await sha256Hex(canonical)].join('\n');
  /** @type {BufferSource} */
  let secret = encoder.encode(`AWS4${key.secret}`);
  for (const part of [day, key.region, 's3', 'aws4_request']) secret = await hmac(secret, part);
  const signature = hex(await hmac(secret, toSign));
  const credential = `${key.keyId}/${scope}`;
  return {
    ...own,
    Authorization: `AWS4-HMAC-SHA256 Credential=${credential},SignedHeaders=${names},Signature=${signature}`,
  };
}
