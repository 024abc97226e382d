/**
 * The offices that the built app is tried with: where the app lies, what a phone is told of the depot, and what the depot
 * holds. A bad network (FaultyProxy) stands before each depot.
 */
import {readFile, rm} from 'node:fs/promises';
import {join} from 'node:path';
import {serve} from '../../web/serve.mjs';
import {distFolder} from '../browser/harness.mjs';
import {bucket, bucketSettings, makeBucket, own} from './bucket.mjs';
import {Ceph} from './ceph.mjs';
import {FaultyProxy} from './faulty-proxy.mjs';
import {Apache, OtherServer, filesIn, users} from './servers.mjs';

const linesOf = (/** @type {string} */ text) => text.split('\n').filter((line) => line !== '');

/** A web folder: app and depot on one origin. */
class FolderSite {
  /** @param {any} server */
  constructor(server) {
    this.server = server;
  }

  async start() {
    this.proxy = await FaultyProxy.start(this.server.upstream, await this.server.identity());
    this.page = `${this.proxy.origin}/tawny/`;
    return this;
  }

  settingsOf(user) {
    return {kind: 'webdav', address: `${this.proxy.origin}/depot/`, writer: user, user, password: users[user]};
  }

  /** Whole files only: a server writes each under a name of its own first. */
  async segments() {
    return (await filesIn(this.server.depot)).filter((file) => file.endsWith('.jsonl'));
  }

  async lines() {
    const texts = await Promise.all((await this.segments()).map((file) => readFile(join(this.server.depot, file), 'utf8')));
    return texts.flatMap(linesOf);
  }

  async empty() {
    for (const file of await this.segments()) await rm(join(this.server.depot, file));
  }

  is = {
    put: ({method}) => method === 'PUT',
    list: ({method}) => method === 'PROPFIND',
    get: ({method, url}) => method === 'GET' && url.startsWith('/depot/'),
  };

  async end() {
    await this.proxy?.end();
    await this.server.end();
  }
}

/** A bucket: the app lies elsewhere. */
class BucketSite {
  async start() {
    this.app = await serve({dir: distFolder()});
    this.page = this.app.url;
    this.ceph = await Ceph.start();
    await makeBucket(this.ceph, new URL(this.page).origin);
    this.proxy = await FaultyProxy.start({port: this.ceph.port, tls: true}, await this.ceph.identity());
    return this;
  }

  settingsOf(user) {
    // By number: the gateway takes a name that it does not know for a bucket's.
    return bucketSettings(user, `https://127.0.0.1:${this.proxy.port}`);
  }

  async segments() {
    const {text} = await own(this.ceph, 'GET', `/${bucket}`, {query: {'list-type': '2'}});
    return [...text.matchAll(/<Key>([^<]+)<\/Key>/g)].map(([, key]) => key);
  }

  async lines() {
    // What a user has put is that user's own: the policy lets the other users read it, and says nothing of the owner.
    const read = (key) => own(this.ceph, 'GET', `/${bucket}/${key}`, {by: 'ben'});
    const answers = await Promise.all((await this.segments()).map(read));
    return answers.flatMap(({text}) => linesOf(text));
  }

  async empty() {
    for (const key of await this.segments()) await own(this.ceph, 'DELETE', `/${bucket}/${key}`);
  }

  is = {
    put: ({method}) => method === 'PUT',
    list: ({method, url}) => method === 'GET' && url.includes('list-type'),
    get: ({method, url}) => method === 'GET' && !url.includes('list-type'),
  };

  async end() {
    await this.proxy?.end();
    await this.ceph?.end();
    await this.app?.close();
  }
}

/** @type {Record<string, () => Promise<FolderSite | BucketSite>>} */
export const sites = {
  Apache: async () => new FolderSite(await Apache.start(distFolder())).start(),
  lighttpd: async () => new FolderSite(await OtherServer.start('lighttpd', distFolder())).start(),
  nginx: async () => new FolderSite(await OtherServer.start('nginx', distFolder())).start(),
  'an S3 store': () => new BucketSite().start(),
};
