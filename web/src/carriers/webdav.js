/**
 * A depot in a WebDAV folder (RFC 4918). Uses PROPFIND, GET, PUT and MKCOL, and relies on nothing else: no locks, no
 * conditions, no ETags, no renaming.
 */
import {addressOf, CarryFault, exchange, faultOf, isGood, xmlOf} from './exchange.js';
import {isFileName, isFolderName, mustBe} from './names.js';

/** @typedef {import('./carrier.js').Settings} Settings @typedef {import('./carrier.js').More} More */

const kDav = 'DAV:';
const kAsk =
  '<?xml version="1.0" encoding="utf-8"?><propfind xmlns="DAV:"><prop><resourcetype/></prop></propfind>';

/** @param {string} user @param {string} password the header of Basic authentication, RFC 7617, in UTF-8 */
function basic(user, password) {
  const bytes = new TextEncoder().encode(`${user}:${password}`);
  return `Basic ${btoa(Array.from(bytes, (byte) => String.fromCharCode(byte)).join(''))}`;
}

/** The path of an address as plain letters; undefined when it is badly encoded. @param {string} path */
function decoded(path) {
  try {
    return decodeURIComponent(path);
  } catch {
    return undefined;
  }
}

/**
 * The names in a 207 answer, from the depot's root. A server may give addresses with or without its own name, and
 * behind a proxy it may not know that name: only the path counts.
 * @param {Document} document @param {URL} root @param {string} folder that was asked for
 */
function namesIn(document, root, folder) {
  const base = decoded(root.pathname) ?? root.pathname;
  const names = [];
  for (const response of document.getElementsByTagNameNS(kDav, 'response')) {
    const href = response.getElementsByTagNameNS(kDav, 'href')[0]?.textContent?.trim();
    if (!href) continue;
    let path;
    try {
      path = decoded(new URL(href, root).pathname);
    } catch {
      continue;
    }
    if (!path?.startsWith(base + folder)) continue;
    const isFolder = response.getElementsByTagNameNS(kDav, 'collection').length > 0;
    const name = path.slice(base.length).replace(/\/$/, '') + (isFolder ? '/' : '');
    if (name === folder || name === '/') continue;
    if (isFolder ? isFolderName(name) : isFileName(name)) names.push(name);
  }
  return names;
}

/** @param {string} name every folder that holds it, the outermost first */
function parentsOf(name) {
  const parts = name.split('/').slice(0, -1);
  return parts.map((_, i) => `${parts.slice(0, i + 1).join('/')}/`);
}

/** @param {Settings} settings @param {More} [more] @returns {import('./carrier.js').Carrier} */
export function makeCarrier({address = '', user = '', password = ''}, {patienceMs} = {}) {
  const root = addressOf(address);
  const Authorization = basic(user, password);
  /**
   * @param {string} method @param {string} name @param {AbortSignal} [signal] @param {Uint8Array | string} [body]
   * @param {Record<string, string>} [headers]
   */
  const ask = (method, name, signal, body, headers = {}) =>
    exchange(new URL(name, root), {method, body, signal, patienceMs, headers: {Authorization, ...headers}});

  /** @param {string} name @param {AbortSignal} [signal] */
  async function makeParents(name, signal) {
    for (const folder of parentsOf(name)) {
      const {status} = await ask('MKCOL', folder, signal);
      // 405: it is there already.
      if (!isGood(status) && status !== 405) throw faultOf(status, `MKCOL ${folder}`);
    }
  }

  return {
    async list(name, signal) {
      mustBe(name, isFolderName);
      const did = `PROPFIND ${name}`;
      const {status, bytes} = await ask('PROPFIND', name, signal, kAsk, {
        Depth: '1',
        'Content-Type': 'application/xml; charset=utf-8',
      });
      // A folder that nobody has written to yet. The depot itself, though, has to be there.
      if (status === 404 && name !== '') return [];
      if (status === 207) return namesIn(xmlOf(bytes, did), root, name);
      if (isGood(status) || status === 405) {
        throw new CarryFault('malformed', `${did}: HTTP status ${status}; this is no WebDAV folder`);
      }
      throw faultOf(status, did);
    },

    async get(name, signal) {
      mustBe(name, isFileName);
      const {status, bytes} = await ask('GET', name, signal);
      if (status !== 200) throw faultOf(status, `GET ${name}`);
      return bytes;
    },

    async put(name, bytes, signal) {
      mustBe(name, isFileName);
      const put = () => ask('PUT', name, signal, bytes, {'Content-Type': 'text/plain; charset=utf-8'});
      let {status} = await put();
      if (status === 409 || status === 404) {
        await makeParents(name, signal);
        ({status} = await put());
        if (status === 409) throw new CarryFault('server', `PUT ${name}: HTTP status 409 though its folder was made`);
      }
      // 412: it is there already. It is read back and compared in any case.
      if (!isGood(status) && status !== 412) throw faultOf(status, `PUT ${name}`);
    },
  };
}
