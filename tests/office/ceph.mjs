/**
 * Ceph's object gateway, the smallest whole one: a monitor, one store in memory, and radosgw with TLS, all on the
 * loopback address and in a folder of their own.
 */
import {randomUUID} from 'node:crypto';
import {mkdir, readFile, rm, writeFile} from 'node:fs/promises';
import {join} from 'node:path';
import {answers, folderFor, freePort, run, start, stop, until} from './servers.mjs';

/** The gateway's own name, of which a bucket's name is a part in host style. */
export const kHost = 's3.example';

export class Ceph {
  static async start() {
    const ceph = new Ceph();
    ceph.root = await folderFor('ceph');
    ceph.children = [];
    try {
      await ceph.startAll();
      return ceph;
    } catch (error) {
      await ceph.end();
      throw error;
    }
  }

  async startAll() {
    const {root} = this;
    for (const name of ['mon', 'osd', 'rgw', 'run']) await mkdir(join(root, name));
    const cluster = randomUUID();
    const store = randomUUID();
    const [monitor, older] = [await freePort(), await freePort()];
    this.port = await freePort();
    const tls = {certificate: join(root, 'certificate.pem'), key: join(root, 'key.pem')};
    const names = `subjectAltName=IP:127.0.0.1,DNS:${kHost},DNS:*.${kHost}`;
    const key = ['-newkey', 'ec', '-pkeyopt', 'ec_paramgen_curve:prime256v1', '-nodes', '-keyout', tls.key];
    await run('openssl', ['req', '-x509', ...key, '-days', '2', '-subj', `/CN=${kHost}`, '-addext', names, '-out', tls.certificate]);
    this.conf = join(root, 'ceph.conf');
    await writeFile(
      this.conf,
      `[global]
fsid = ${cluster}
keyring = ${root}/keyring
mon initial members = a
mon host = [v2:127.0.0.1:${monitor},v1:127.0.0.1:${older}]
mon allow pool size one = true
mon data avail crit = 0
mon data = ${root}/mon
osd data = ${root}/osd
rgw data = ${root}/rgw
run dir = ${root}/run
crash dir = ${root}/run
admin socket = ${root}/run/$name.asok
pid file = ${root}/run/$name.pid
log file = ${root}/run/$name.log
osd pool default size = 1
osd pool default min size = 1
osd pool default pg num = 1
osd pool default pgp num = 1
osd pool default pg autoscale mode = off
osd crush chooseleaf type = 0
osd objectstore = memstore
memstore device bytes = 268435456
rgw dns name = ${kHost}
rgw frontends = beast ssl_endpoint=127.0.0.1:${this.port} ssl_certificate=${tls.certificate} ssl_private_key=${tls.key}
`,
    );
    const at = (/** @type {string[]} */ ...parts) => ['-c', this.conf, ...parts];
    const keyring = join(root, 'keyring');
    const may = ['--cap', 'mon', 'allow *', '--cap', 'osd', 'allow *'];
    await run('ceph-authtool', ['--create-keyring', keyring, '--gen-key', '-n', 'mon.', '--cap', 'mon', 'allow *']);
    for (const who of ['client.admin', 'client.rgw', 'osd.0']) {
      await run('ceph-authtool', [keyring, '--gen-key', '-n', who, ...may]);
    }
    const map = join(root, 'monmap');
    const address = `[v2:127.0.0.1:${monitor},v1:127.0.0.1:${older}]`;
    await run('monmaptool', ['--create', '--addv', 'a', address, '--fsid', cluster, map]);
    await run('ceph-mon', at('--mkfs', '-i', 'a', '--monmap', map, '--keyring', keyring));
    this.children.push(start('ceph-mon', at('-i', 'a', '-f')));
    const admin = (/** @type {string[]} */ ...parts) => run('ceph', at('--connect-timeout', '20', ...parts), {timeout: 30_000});
    await admin('osd', 'new', store);
    await run('ceph-osd', at('-i', '0', '--mkfs', '--osd-uuid', store), {timeout: 30_000});
    this.children.push(start('ceph-osd', at('-i', '0', '-f')));
    this.children.push(start('radosgw', at('-n', 'client.rgw', '-f')));
    await until(() => {
      const ended = this.children.find((child) => child.exitCode !== null);
      if (ended) throw new Error(ended.said);
      return answers(this.port);
    }, 'radosgw');
    this.origin = `https://127.0.0.1:${this.port}`;
  }

  /** @param {string} name @param {string} keyId @param {string} secret */
  async addUser(name, keyId, secret) {
    const who = [`--uid=${name}`, `--display-name=${name}`, `--access-key=${keyId}`, `--secret-key=${secret}`];
    await run('radosgw-admin', ['-c', this.conf, 'user', 'create', ...who], {timeout: 30_000});
  }

  async identity() {
    const [certificate, key] = ['certificate.pem', 'key.pem'].map((name) => readFile(join(this.root, name), 'utf8'));
    return {certificate: await certificate, key: await key};
  }

  async end() {
    await Promise.all(this.children.reverse().map(stop));
    await rm(this.root, {recursive: true, force: true});
  }
}
