/**
 * One request to a depot and its whole answer, and the few words for what can go wrong on the way. The browser does
 * the carrying; patience, size and the login pages of other people's networks are looked after here.
 *
 * Nothing is asked twice here: whoever drives the sync decides whether there is a next time.
 */
import {parsed} from '../trusted.js';

/**
 * @typedef {'offline' | 'wrong_password' | 'no_right' | 'not_there' | 'full' | 'server' | 'certificate' | 'clock'
 *   | 'malformed' | 'barred' | 'cancelled'} FaultWord
 * @typedef {{status: number, type: string, bytes: Uint8Array}} Answer `type` is the content's, in small letters
 * @typedef {{method: string, headers?: Record<string, string>, body?: Uint8Array | string, signal?: AbortSignal,
 *   patienceMs?: number}} Asked
 */

/** Longer than this without a byte, and the network counts as gone. */
const kPatienceMs = 30_000;
/** A browser does not tell how far an upload has come, so its patience grows with the length: a slow 2G line. */
const kSlowestBytesPerSecond = 2_000;
/** Far more than a thousand entries; what is longer comes from no depot. */
const kMostBytes = 64 * 1024 * 1024;

const kMostDetail = 400;

export class CarryFault extends Error {
  /**
   * @param {FaultWord} fault @param {string} detail plain technical words, for whoever mends it
   * @param {boolean} [isMute] the browser gives no reason: no network, a certificate, or an answer that it hides
   */
  constructor(fault, detail, isMute = false) {
    // A server's own words may be in it, as many as it likes.
    const short = detail.length > kMostDetail ? `${detail.slice(0, kMostDetail)}…` : detail;
    super(`${fault}: ${short}`);
    this.name = 'CarryFault';
    this.fault = fault;
    this.detail = short;
    this.isMute = isMute;
  }
}

/**
 * The fault that an HTTP status stands for. A status that one kind of depot uses in its own way is judged there.
 * @param {number} status @param {string} did what was tried, such as "GET a1/"
 */
export function faultOf(status, did) {
  /** @type {Record<number, FaultWord>} */
  const words = {
    401: 'wrong_password',
    403: 'no_right',
    404: 'not_there',
    408: 'server',
    410: 'not_there',
    413: 'full',
    423: 'server',
    429: 'server',
    507: 'full',
    511: 'malformed',
  };
  const word = words[status] ?? (status >= 500 ? 'server' : 'malformed');
  return new CarryFault(word, `${did}: HTTP status ${status}`);
}

/** @param {number} status */
export const isGood = (status) => status >= 200 && status < 300;

/**
 * Collects a body, waiting anew for each piece.
 * @param {Response} response @param {() => void} wait
 */
async function collect(response, wait) {
  /** @type {Uint8Array[]} */
  const pieces = [];
  let length = 0;
  const reader = response.body?.getReader();
  while (reader) {
    wait();
    const {done, value} = await reader.read();
    if (done) break;
    pieces.push(value);
    length += value.length;
    if (length > kMostBytes) {
      void reader.cancel();
      throw new CarryFault('malformed', `an answer of more than ${kMostBytes} bytes`);
    }
  }
  const promised = response.headers.get('Content-Length');
  // Of a compressed body the header tells another length.
  if (promised !== null && !response.headers.has('Content-Encoding') && length < Number(promised)) {
    throw new CarryFault('offline', `${length} of ${promised} bytes came`);
  }
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}

/**
 * Addresses that the browser has refused to ask, as the page's policy or its server's says.
 * @type {Set<string> | undefined}
 */
let barred;

function watchBarred() {
  if (barred) return;
  const seen = new Set();
  barred = seen;
  addEventListener('securitypolicyviolation', ({effectiveDirective, blockedURI}) => {
    if (effectiveDirective === 'connect-src') seen.add(blockedURI);
  });
}

/** @param {URL} url that did not answer */
async function isBarred(url) {
  // The browser tells of the refusal in a task of its own.
  await new Promise((told) => setTimeout(told));
  return barred !== undefined && (barred.has(url.href) || barred.has(url.origin));
}

/**
 * Asks, and waits for the whole answer, whatever its status. Never follows a redirect: no depot sends one, but the
 * login page of a network does.
 * @param {URL} url @param {Asked} asked @returns {Promise<Answer>}
 */
export async function exchange(url, {signal, patienceMs = kPatienceMs, method, headers, body}) {
  const did = `${method} ${url.pathname}`;
  if (signal?.aborted) throw new CarryFault('cancelled', did);
  watchBarred();
  const ending = new AbortController();
  const end = () => ending.abort();
  signal?.addEventListener('abort', end);
  let silent = false;
  let answered = false;
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let alarm;
  const wait = (/** @type {number} */ milliseconds) => {
    clearTimeout(alarm);
    alarm = setTimeout(() => {
      silent = true;
      end();
    }, milliseconds);
  };
  try {
    wait(patienceMs + ((body?.length ?? 0) / kSlowestBytesPerSecond) * 1000);
    const response = await fetch(url, {
      method,
      headers,
      body: /** @type {BodyInit | undefined} */ (body),
      signal: ending.signal,
      credentials: 'omit',
      cache: 'no-store',
      redirect: 'manual',
      referrerPolicy: 'no-referrer',
    });
    answered = true;
    if (response.type === 'opaqueredirect') throw new CarryFault('malformed', `${did}: sent on to another address`);
    const type = (response.headers.get('Content-Type') ?? '').toLowerCase();
    const bytes = await collect(response, () => wait(patienceMs));
    // Servers explain faults, and say "created", in HTML. A plain yes in HTML is somebody's login page.
    if (response.status === 200 && type.startsWith('text/html')) {
      throw new CarryFault('malformed', `${did}: answered by a web page, perhaps the login page of this network`);
    }
    return {status: response.status, type, bytes};
  } catch (error) {
    if (error instanceof CarryFault) throw error;
    if (signal?.aborted) throw new CarryFault('cancelled', did);
    if (silent) throw new CarryFault('offline', `${did}: no byte for ${Math.round(patienceMs / 1000)} s`);
    if (!answered && (await isBarred(url))) {
      throw new CarryFault('barred', `${did}: the rules that came with this app do not allow ${url.origin}`);
    }
    const detail = `${did}: ${error instanceof Error ? error.message : error}`;
    throw new CarryFault('offline', `${detail} (a certificate that this phone does not trust looks the same)`, !answered);
  } finally {
    clearTimeout(alarm);
    signal?.removeEventListener('abort', end);
  }
}

/**
 * Whether anything answers there, even if the browser hides the answer from this page.
 * @param {URL} url @param {AbortSignal} [signal]
 */
export async function isReachable(url, signal) {
  try {
    await fetch(url, {mode: 'no-cors', signal, credentials: 'omit', cache: 'no-store', referrerPolicy: 'no-referrer'});
    return true;
  } catch {
    return false;
  }
}

/**
 * How far a clock is ahead of that of the server which the app came from; undefined when that server is silent.
 * @param {number} now milliseconds since 1970 @param {AbortSignal} [signal]
 */
export async function clockAheadMs(now, signal) {
  try {
    // The service worker answers no HEAD, so this is no old answer.
    const {headers} = await fetch(location.href, {method: 'HEAD', signal, credentials: 'omit', cache: 'no-store'});
    const theirs = Date.parse(headers.get('Date') ?? '');
    return Number.isNaN(theirs) ? undefined : now - theirs;
  } catch {
    return undefined;
  }
}

/** @param {string} text what a person typed as an address @returns {URL} ends with "/", without what follows the path */
export function addressOf(text) {
  let url;
  try {
    url = new URL(text.trim());
  } catch {
    throw new CarryFault('malformed', `"${text}" is no address`);
  }
  if (url.protocol !== 'https:' && url.protocol !== 'http:') {
    throw new CarryFault('malformed', `"${text}" does not begin with https:`);
  }
  // A browser refuses a request to an address that holds these.
  url.username = '';
  url.password = '';
  url.search = '';
  url.hash = '';
  if (!url.pathname.endsWith('/')) url.pathname += '/';
  return url;
}

/** A listing of a thousand names is a tenth of it. */
const kMostXmlBytes = 8 * 1024 * 1024;

/**
 * No document type: with one come entities, which can make gigabytes of a line.
 * @param {Uint8Array} bytes @param {string} did @returns {Document}
 */
export function xmlOf(bytes, did) {
  if (bytes.length > kMostXmlBytes) {
    throw new CarryFault('malformed', `${did}: a list of more than ${kMostXmlBytes} bytes`);
  }
  const text = new TextDecoder().decode(bytes);
  if (/<!DOCTYPE|<!ENTITY/i.test(text)) throw new CarryFault('malformed', `${did}: XML with a document type`);
  const document = parsed(text, 'application/xml');
  if (document.getElementsByTagName('parsererror').length > 0) {
    throw new CarryFault('malformed', `${did}: the answer is not XML`);
  }
  return document;
}
