/**
 * Serves the built app on this machine: node web/serve.mjs --dir DIST [--port 8600] [--host 127.0.0.1]
 *
 * For a person's own machine and for tests. An office serves the same files from its own web server.
 */
import {createReadStream} from 'node:fs';
import {stat} from 'node:fs/promises';
import {createServer} from 'node:http';
import {extname, join, normalize, resolve, sep} from 'node:path';
import {pathToFileURL} from 'node:url';
import {parseArgs} from 'node:util';

const types = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.wasm': 'application/wasm',
  '.png': 'image/png',
  '.json': 'application/json',
  '.webmanifest': 'application/manifest+json',
};
const headers = {
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'DENY',
  'Referrer-Policy': 'no-referrer',
  'Permissions-Policy':
    'accelerometer=(), camera=(), display-capture=(), geolocation=(self), gyroscope=(), hid=(), ' +
    'magnetometer=(), microphone=(), midi=(), payment=(), serial=(), usb=()',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  // What is no page may ask this server only: the service worker, which does not know the rules of the page.
  'Content-Security-Policy':
    "default-src 'none'; script-src 'self'; connect-src 'self'; require-trusted-types-for 'script'; frame-ancestors 'none'",
};
/** A page states its rules itself; by whom it may be framed is for its server to say. */
const pageHeaders = {...headers, 'Content-Security-Policy': "frame-ancestors 'none'"};
const hashedName = /-[0-9a-f]{8}\.\w+$/;

/** @param {string} dir @param {string | undefined} address @returns {Promise<{path: string, size: number} | undefined>} */
async function find(dir, address) {
  try {
    const name = decodeURIComponent(new URL(address ?? '/', 'http://localhost').pathname);
    const path = normalize(join(dir, name.endsWith('/') ? `${name}index.html` : name));
    if (!path.startsWith(resolve(dir) + sep)) return undefined;
    const found = await stat(path);
    return found.isFile() ? {path, size: found.size} : undefined;
  } catch {
    return undefined;
  }
}

/**
 * @param {{dir: string, port?: number, host?: string}} options port 0 takes any that is free
 * @returns {Promise<{url: string, port: number, close: () => Promise<void>}>}
 */
export function serve({dir, port = 0, host = '127.0.0.1'}) {
  const root = resolve(dir);
  const server = createServer(async (request, response) => {
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      response.writeHead(405, {...headers, Allow: 'GET, HEAD'}).end();
      return;
    }
    const file = await find(root, request.url);
    if (!file) {
      response.writeHead(404, {...headers, 'Content-Type': 'text/plain'}).end('Not found');
      return;
    }
    response.writeHead(200, {
      ...(extname(file.path) === '.html' ? pageHeaders : headers),
      'Content-Type': types[extname(file.path)] ?? 'application/octet-stream',
      'Content-Length': file.size,
      'Cache-Control': hashedName.test(file.path) ? 'public, max-age=31536000, immutable' : 'no-cache',
    });
    if (request.method === 'HEAD') {
      response.end();
    } else {
      createReadStream(file.path).pipe(response);
    }
  });
  return new Promise((done, fail) => {
    server.on('error', fail);
    server.listen(port, host, () => {
      const {port: taken} = /** @type {import('node:net').AddressInfo} */ (server.address());
      done({
        url: `http://localhost:${taken}/`,
        port: taken,
        close: () =>
          new Promise((closed) => {
            server.close(() => closed());
            server.closeAllConnections();
          }),
      });
    });
  });
}

if (import.meta.url === pathToFileURL(process.argv[1]).href) {
  const {values} = parseArgs({
    options: {dir: {type: 'string'}, port: {type: 'string', default: '8600'}, host: {type: 'string'}},
  });
  if (!values.dir) {
    console.error('Usage: node web/serve.mjs --dir DIST [--port 8600] [--host 127.0.0.1]');
    process.exit(2);
  }
  try {
    const {url} = await serve({dir: values.dir, port: Number(values.port), host: values.host});
    console.log(`Tawny: ${url}`);
  } catch (error) {
    const taken = /** @type {NodeJS.ErrnoException} */ (error).code === 'EADDRINUSE';
    console.error(taken ? `Port ${values.port} is taken; choose another with --port.` : String(error));
    process.exit(1);
  }
}
