/**
 * Real servers for the tests, each with a folder of its own and a port on the loopback address. Whatever happens to a
 * test, they end with it.
 */
import {execFile, spawn} from 'node:child_process';
import {createHash} from 'node:crypto';
import {once} from 'node:events';
import {chmod, chown, cp, mkdir, mkdtemp, readdir, readFile, rm, writeFile} from 'node:fs/promises';
import {request as httpRequest} from 'node:http';
import {request as httpsRequest} from 'node:https';
import {connect, createServer} from 'node:net';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {promisify} from 'node:util';
import {writeCarrierPage} from '../browser/carrier-page.mjs';

export const run = promisify(execFile);
export const office = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'web', 'office');
export const isRoot = process.getuid() === 0;
export const users = {ana: 'ana-writes-1', ben: 'ben-writes-2'};
const kPatienceMs = 30_000;
const kPollMs = 20;

/** @type {Set<import('node:child_process').ChildProcess>} */
const running = new Set();
process.on('exit', () => running.forEach((child) => child.kill('SIGKILL')));
for (const signal of ['SIGINT', 'SIGTERM']) {
  process.on(signal, () => process.exit(1));
}

/** Waits until `ready` gives something true. @template T @param {() => Promise<T> | T} ready @param {string} what */
export async function until(ready, what) {
  const end = Date.now() + kPatienceMs;
  for (;;) {
    const answer = await ready();
    if (answer) return answer;
    if (Date.now() > end) throw new Error(`waited in vain: ${what}`);
    await new Promise((done) => setTimeout(done, kPollMs));
  }
}

/** @returns {Promise<number>} */
export async function freePort() {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const {port} = server.address();
  server.close();
  await once(server, 'close');
  return port;
}

/** @param {number} port */
export const answers = (port) =>
  new Promise((done) => {
    const socket = connect(port, '127.0.0.1');
    socket.on('connect', () => done(true)).on('error', () => done(false));
    socket.on('connect', () => socket.destroy());
  });

/** A folder that the server's own user may enter. @param {string} name */
export async function folderFor(name) {
  const dir = await mkdtemp(join(tmpdir(), `tawny-${name}-`));
  await chmod(dir, 0o755);
  return dir;
}

/** Debian's user of web servers, for what a server started by root has to write. @param {string[]} paths */
export async function giveToWebServer(...paths) {
  if (!isRoot) return;
  const {stdout} = await run('id', ['-u', 'www-data']);
  for (const path of paths) await chown(path, Number(stdout), Number(stdout));
}

/** @param {string} command @param {string[]} parts @param {object} [options] */
export function start(command, parts, options = {}) {
  const child = spawn(command, parts, {stdio: ['ignore', 'pipe', 'pipe'], ...options});
  running.add(child);
  child.said = '';
  for (const stream of [child.stdout, child.stderr]) stream.on('data', (data) => (child.said += data));
  child.on('error', (error) => (child.said += error));
  child.on('exit', () => running.delete(child));
  return child;
}

/** @param {import('node:child_process').ChildProcess | undefined} child */
export async function stop(child) {
  if (!child || child.exitCode !== null || child.signalCode !== null || child.pid === undefined) return;
  const gone = once(child, 'exit');
  child.kill('SIGTERM');
  const alarm = setTimeout(() => child.kill('SIGKILL'), 5000);
  await gone;
  clearTimeout(alarm);
}

/** Every file below a folder, as paths from it. @param {string} dir */
export async function filesIn(dir) {
  const found = await readdir(dir, {recursive: true, withFileTypes: true});
  return found
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(dir.length + 1))
    .sort();
}

/** A segment's name for these bytes. @param {string} folder writer/device @param {number} first @param {string} bytes */
export function segmentName(folder, first, bytes) {
  const hash = createHash('sha256').update(bytes).digest('hex').slice(0, 16);
  return `${folder}/${Math.floor((first - 1) / 1000)}/${first}-${first}-${hash}.jsonl`;
}

/**
 * One request without a browser, for what a browser would not send.
 * @param {string} url
 * @param {{method?: string, user?: string, password?: string, headers?: object, body?: string | Buffer}} [options]
 * @returns {Promise<{status: number, headers: object, text: string}>}
 */
export function ask(url, {method = 'GET', user, password = users[user], headers = {}, body} = {}) {
  const auth = user === undefined ? undefined : `${user}:${password}`;
  const send = url.startsWith('https:') ? httpsRequest : httpRequest;
  return new Promise((done, fail) => {
    const request = send(url, {method, headers, auth, rejectUnauthorized: false, agent: false}, (response) => {
      let text = '';
      response.on('data', (data) => (text += data));
      response.on('end', () => done({status: response.statusCode, headers: response.headers, text}));
      response.on('error', fail);
    });
    request.on('error', fail);
    request.end(body);
  });
}

/** @param {string} root @param {string[]} parts @param {string} [input] */
export async function setUp(root, parts, input) {
  const child = start(join(office, 'set-up'), [...parts, '--root', root], {stdio: [input === undefined ? 'ignore' : 'pipe', 'pipe', 'pipe']});
  let out = '';
  child.stdout.on('data', (data) => (out += data));
  child.stdin?.end(input);
  const [code] = await once(child, 'close');
  return {code, out: out.trim(), said: child.said};
}

/** @param {string} root @param {Record<string, string>} who name and password */
export async function addUsers(root, who) {
  for (const [name, password] of Object.entries(who)) {
    const {code, said} = await setUp(root, ['user', name, '--password-from-stdin'], `${password}\n`);
    if (code !== 0) throw new Error(said);
  }
}

/** Apache with the settings that web/office/set-up writes. */
export class Apache {
  /**
   * @param {string} [app] the folder of the built app; without it, the page of the carriers stands for it
   * @param {string[]} [more] said to set-up
   */
  static async start(app, more = []) {
    const apache = new Apache();
    apache.root = await folderFor('apache');
    apache.pageDir = await folderFor('app');
    try {
      await apache.startAll(app, more);
      return apache;
    } catch (error) {
      await apache.end();
      throw error;
    }
  }

  /** @param {string | undefined} app @param {string[]} more */
  async startAll(app, more) {
    this.port = await freePort();
    if (!app) await writeCarrierPage(this.pageDir);
    const {code, said} = await setUp(this.root, ['--app', app ?? this.pageDir, '--trial', '--port', String(this.port), ...more]);
    if (code !== 0) throw new Error(said);
    await addUsers(this.root, users);
    this.depot = join(this.root, 'depot');
    this.origin = `https://localhost:${this.port}`;
    await this.startServer();
  }

  async startServer() {
    this.child = start('/usr/sbin/apache2', ['-f', join(this.root, 'server.conf'), '-D', 'FOREGROUND']);
    await until(() => {
      if (this.child.exitCode !== null) throw new Error(this.child.said);
      return answers(this.port);
    }, 'Apache');
  }

  get page() {
    return `${this.origin}/tawny/`;
  }

  get upstream() {
    return {port: this.port, tls: true};
  }

  async identity() {
    const [certificate, key] = ['trial.pem', 'trial.key'].map((name) => readFile(join(this.root, 'tls', name), 'utf8'));
    return {certificate: await certificate, key: await key};
  }

  async end() {
    await stop(this.child);
    await rm(this.root, {recursive: true, force: true});
    await rm(this.pageDir, {recursive: true, force: true});
  }
}

/** The settings in the first fenced block of that language in a page of web/office. @param {string} page @param {string} language */
export async function snippet(page, language) {
  const text = await readFile(join(office, page), 'utf8');
  const found = new RegExp(`\`\`\`${language}\\n([^]*?)\`\`\``).exec(text);
  if (!found) throw new Error(`${page} holds no ${language}`);
  return found[1];
}

/** lighttpd or nginx, with the settings that their pages in web/office show. */
export class OtherServer {
  /** @param {'lighttpd' | 'nginx'} kind @param {string} [app] the folder of the built app, as for Apache */
  static async start(kind, app) {
    const server = new OtherServer();
    server.root = await folderFor(kind);
    try {
      await server.startAll(kind, app);
      return server;
    } catch (error) {
      await server.end();
      throw error;
    }
  }

  /** @param {'lighttpd' | 'nginx'} kind @param {string} [app] */
  async startAll(kind, app) {
    this.port = await freePort();
    this.plainPort = await freePort();
    this.depot = join(this.root, 'depot');
    const places = ['app', 'depot', 'depot-tmp', 'tmp', 'run', 'tls'].map((name) => join(this.root, name));
    for (const place of places) await mkdir(place);
    for (const name of Object.keys(users)) await mkdir(join(this.depot, name));
    await (app ? cp(app, join(this.root, 'app'), {recursive: true}) : writeCarrierPage(join(this.root, 'app')));
    for (const [name, password] of Object.entries(users)) {
      await run('htpasswd', ['-b', ...(name === 'ana' ? ['-c'] : []), '-B', join(this.root, 'users'), name, password]);
    }
    const subject = ['-subj', '/CN=localhost', '-addext', 'subjectAltName=DNS:localhost'];
    const key = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes'];
    const files = ['-keyout', join(this.root, 'tls/key.pem'), '-out', join(this.root, 'tls/certificate.pem')];
    await run('openssl', ['req', '-x509', ...key, '-days', '2', ...subject, ...files]);
    await giveToWebServer(...places, ...Object.keys(users).map((name) => join(this.depot, name)));
    const fill = (/** @type {string} */ text) =>
      text
        .replaceAll('/var/lib/tawny', this.root)
        .replace(/(?<before>listen |"):?443\b/, `$<before>127.0.0.1:${this.port}`);
    const file = join(this.root, `${kind}.conf`);
    if (kind === 'lighttpd') {
      await writeFile(file, frames.lighttpd(this, fill(await snippet('lighttpd.md', 'lighttpd'))));
      this.child = start('/usr/sbin/lighttpd', ['-D', '-f', file]);
    } else {
      await writeFile(file, frames.nginx(this, fill(await snippet('nginx.md', 'nginx'))));
      this.child = start('/usr/sbin/nginx', ['-c', file, '-p', this.root, '-e', 'stderr']);
    }
    await until(() => {
      if (this.child.exitCode !== null) throw new Error(this.child.said);
      return answers(this.port);
    }, kind);
  }

  get page() {
    return `https://localhost:${this.port}/tawny/`;
  }

  get origin() {
    return `https://localhost:${this.port}`;
  }

  get upstream() {
    return {port: this.port, tls: true};
  }

  async identity() {
    const [certificate, key] = ['certificate.pem', 'key.pem'].map((name) => readFile(join(this.root, 'tls', name), 'utf8'));
    return {certificate: await certificate, key: await key};
  }

  async end() {
    await stop(this.child);
    await rm(this.root, {recursive: true, force: true});
  }
}

/** What Debian's own main settings do around the snippet, on a loopback port. */
const frames = {
  lighttpd: ({root, plainPort}, /** @type {string} */ text) => `
server.modules = ("mod_indexfile", "mod_access", "mod_alias", "mod_redirect")
server.port = ${plainPort}
server.bind = "127.0.0.1"
server.document-root = "${root}/app"
server.upload-dirs = ("${root}/tmp")
server.errorlog = "${root}/run/error.log"
${isRoot ? 'server.username = "www-data"\nserver.groupname = "www-data"' : ''}
mimetype.assign = (".html" => "text/html", ".js" => "text/javascript", ".css" => "text/css", ".png" => "image/png",
  ".json" => "application/json", ".wasm" => "application/wasm", ".webmanifest" => "application/manifest+json")
index-file.names = ("index.html")
${text}`,
  nginx: ({root}, /** @type {string} */ text) => `
${isRoot ? 'user www-data;' : ''}
daemon off;
pid ${root}/run/nginx.pid;
load_module /usr/lib/nginx/modules/ngx_http_dav_ext_module.so;
events {}
http {
  types {
    text/html html; text/javascript js; text/css css; image/png png; application/json json; application/wasm wasm;
    application/manifest+json webmanifest;
  }
  access_log off;
  client_body_temp_path ${root}/tmp/body;
  proxy_temp_path ${root}/tmp/proxy;
  fastcgi_temp_path ${root}/tmp/fastcgi;
  uwsgi_temp_path ${root}/tmp/uwsgi;
  scgi_temp_path ${root}/tmp/scgi;
${text}
}`,
};
