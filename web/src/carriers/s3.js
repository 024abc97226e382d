/**
 * A depot in a bucket of an S3-compatible store: ListObjectsV2, GetObject and PutObject, signed with Signature
 * Version 4. A bucket has no folders: a list gives every file whose name begins so, in pages.
 */
import {CarryFault, clockAheadMs, exchange, faultOf, isGood, isReachable, xmlOf} from './exchange.js';
import {isFileName, isFolderName, kMostNames, mustBe} from './names.js';
import {placeOf} from './origin.js';
import {encoded, queryOf, signed} from './sigv4.js';

/** @typedef {import('./carrier.js').Settings} Settings @typedef {import('./carrier.js').More} More */
/** @typedef {import('./exchange.js').FaultWord} FaultWord */

/** What a store's own code says more exactly than its HTTP status. @type {Record<string, FaultWord>} */
const kCodes = {
  SignatureDoesNotMatch: 'wrong_password',
  InvalidAccessKeyId: 'wrong_password',
  ExpiredToken: 'wrong_password',
  InvalidToken: 'wrong_password',
  RequestTimeTooSkewed: 'clock',
  QuotaExceeded: 'full',
  EntityTooLarge: 'full',
};

/** Stores refuse what was signed by a clock that is further off: Amazon S3 API Reference, RequestTimeTooSkewed. */
const kMostClockErrorMs = 15 * 60_000;

/** A store gives a thousand names a page, or fewer as it likes. */
const kMostPages = 3000;

/** The text of the first element of that name, whatever its namespace. @param {Document | Element} node @param {string} name */
const textOf = (node, name) => node.getElementsByTagNameNS('*', name)[0]?.textContent ?? '';

/** @param {import('./exchange.js').Answer} answer @param {string} did */
function faultIn({status, bytes}, did) {
  let code = '';
  let message = '';
  try {
    const document = xmlOf(bytes, did);
    code = textOf(document, 'Code');
    message = textOf(document, 'Message');
  } catch {
    // Not the store's own answer; the status has to do.
  }
  const plain = faultOf(status, did);
  return new CarryFault(kCodes[code] ?? plain.fault, [plain.detail, code, message].filter(Boolean).join('; '));
}

/** A key as it stands in a list that was asked for in url encoding. @param {string} key @param {string} did */
function decodedKey(key, did) {
  try {
    return decodeURIComponent(key.replaceAll('+', ' '));
  } catch {
    throw new CarryFault('malformed', `${did}: a key that is badly encoded`);
  }
}

/** @param {Settings} settings @param {More} [more] @returns {import('./carrier.js').Carrier} */
export function makeCarrier(settings, {patienceMs, now = Date.now} = {}) {
  const {bucket = '', style = 'path', region = '', key_id: keyId = '', secret = ''} = settings;
  const prefix = (settings.prefix ?? '').replace(/^\/+|\/+$/g, '');
  const before = prefix === '' ? '' : `${prefix}/`;
  const place = placeOf(settings);
  const root = new URL(place);
  if (style !== 'host') root.pathname += `${encoded(bucket)}/`;

  /**
   * @param {string} method @param {string} key @param {AbortSignal} [signal]
   * @param {{query?: Record<string, string>, body?: Uint8Array}} [more]
   */
  async function send(method, key, signal, {query = {}, body} = {}) {
    const url = new URL(root);
    url.pathname += key.split('/').map(encoded).join('/');
    url.search = queryOf(query);
    const headers = await signed({method, host: url.host, path: url.pathname, query, body}, {keyId, secret, region}, now());
    return exchange(url, {method, body, headers, signal, patienceMs});
  }

  /**
   * Some stores leave the CORS headers out when they refuse a signature, and then the browser hides the refusal. So
   * when nothing came back: does the store answer others, and does it hide its answer to the smallest request too?
   * @param {CarryFault} fault @param {AbortSignal} [signal]
   */
  async function explained(fault, signal) {
    if (!(await isReachable(place, signal))) return fault;
    try {
      await send('GET', '', signal, {query: {'list-type': '2', 'max-keys': '1', prefix: before}});
      return fault;
    } catch (error) {
      if (!(error instanceof CarryFault && error.isMute)) return fault;
    }
    const time = now();
    const ahead = await clockAheadMs(time, signal);
    if (signal?.aborted) return new CarryFault('cancelled', fault.detail);
    if (ahead !== undefined && Math.abs(ahead) > kMostClockErrorMs) {
      return new CarryFault('clock', `this clock is ${Math.round(ahead / 60_000)} min ahead of the app's server`);
    }
    const causes = 'a wrong key id, secret or bucket, a wrong clock, or CORS rules that do not name this app';
    return new CarryFault('wrong_password', `the store answers, but the browser hides the answer: ${causes}`);
  }

  /** @type {typeof send} */
  async function ask(method, key, signal, more) {
    try {
      return await send(method, key, signal, more);
    } catch (error) {
      throw error instanceof CarryFault && error.isMute ? await explained(error, signal) : error;
    }
  }

  return {
    async list(name, signal) {
      mustBe(name, isFolderName);
      const did = `list ${name}`;
      const names = [];
      const seen = new Set();
      let token = '';
      for (;;) {
        /** @type {Record<string, string>} */
        const query = {'list-type': '2', 'encoding-type': 'url', prefix: before + name};
        if (token !== '') query['continuation-token'] = token;
        const answer = await ask('GET', '', signal, {query});
        if (answer.status !== 200) throw faultIn(answer, did);
        const document = xmlOf(answer.bytes, did);
        if (document.documentElement.localName !== 'ListBucketResult') {
          throw new CarryFault('malformed', `${did}: the answer is no list of a bucket`);
        }
        const isEncoded = textOf(document, 'EncodingType') === 'url';
        for (const item of document.getElementsByTagNameNS('*', 'Contents')) {
          const written = textOf(item, 'Key');
          const key = isEncoded ? decodedKey(written, did) : written;
          if (!key.startsWith(before + name)) continue;
          const found = key.slice(before.length);
          if (isFileName(found)) names.push(found);
        }
        if (textOf(document, 'IsTruncated') !== 'true') return names;
        token = textOf(document, 'NextContinuationToken');
        if (token === '' || seen.has(token)) throw new CarryFault('malformed', `${did}: the next page has no name`);
        seen.add(token);
        if (names.length > kMostNames || seen.size > kMostPages) throw new CarryFault('malformed', `${did}: it has no end`);
      }
    },

    async get(name, signal) {
      mustBe(name, isFileName);
      const answer = await ask('GET', before + name, signal);
      if (answer.status !== 200) throw faultIn(answer, `GET ${name}`);
      return answer.bytes;
    },

    async put(name, bytes, signal) {
      mustBe(name, isFileName);
      const answer = await ask('PUT', before + name, signal, {body: bytes});
      // 412: it is there already. It is read back and compared in any case.
      if (!isGood(answer.status) && answer.status !== 412) throw faultIn(answer, `PUT ${name}`);
    },
  };
}
