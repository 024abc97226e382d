/**
 * Keys of real browsers: a farm founded by one phone, joined by another, admitted, and what somebody changed on the
 * way. The shell command and openssl say of the same lines what the phones say.
 */
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {createHash} from 'node:crypto';
import {mkdtemp, readFile, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {after, before, test} from 'node:test';
import {fileURLToPath} from 'node:url';
import {gunzipSync} from 'node:zlib';
import {Phone} from './harness.mjs';
import {joinByFile} from './ways.mjs';

const program = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'build', 'native', 'tawny');
const settings = {time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}};

/** @type {Phone} */
let office;
/** @type {Phone} */
let phone;
let folder;

before(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tawny-trust-'));
});
after(async () => {
  const errors = [office, phone].flatMap((one) => one?.errors ?? []);
  await office?.end();
  await phone?.end();
  await rm(folder, {recursive: true});
  assert.deepEqual(errors, []);
});

/** The lines of a phone's logbook, as its person takes it out. @param {Phone} from @returns {Promise<string[]>} */
async function takenOut(from) {
  await from.tap('tab', 'Office');
  const [download] = await Promise.all([from.page.waitForEvent('download'), from.activate('office/out/share')]);
  const bytes = await readFile(await download.path());
  const text = (bytes[0] === 0x1f ? gunzipSync(bytes) : bytes).toString();
  return text.split('\n').filter((line) => line.startsWith('{"v":'));
}

/** @param {Phone} to @param {string[]} lines */
async function bringIn(to, lines) {
  await to.tap('tab', 'Office');
  const [chooser] = await Promise.all([to.page.waitForEvent('filechooser'), to.activate('office/in/pick')]);
  await chooser.setFiles({name: 'farm.txt', mimeType: 'text/plain', buffer: Buffer.from(`${lines.join('\n')}\n`)});
  await to.page.locator('#mirror [data-node="incoming/accept"]:not([aria-disabled=true])').waitFor({state: 'attached'});
  await to.activate('incoming/accept');
  await to.node('office/in/done');
}

/** `tawny check` of these lines. */
async function check(lines) {
  const file = join(folder, 'lines.jsonl');
  await writeFile(file, `${lines.join('\n')}\n`);
  try {
    return JSON.parse(execFileSync(program, ['check', file], {encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore']}));
  } catch (error) {
    // Something was found; what it was stands on the output all the same.
    return JSON.parse(error.stdout);
  }
}

const entryOf = (line) => JSON.parse(line);
const bodyOf = (line) => line.slice(0, line.lastIndexOf(',"hash":"'));
const sealed = (body) => `${body},"hash":"${createHash('sha256').update(body).digest('hex')}"}`;
const wordsShown = async (on) => (await on.node('device/words')).name;

/** The signature over the line before `line`, checked by the program openssl and nothing of ours. */
async function opensslSays(line, key) {
  const {previous, values} = entryOf(line);
  // SubjectPublicKeyInfo of a key on P-256 (RFC 5480): a fixed head, then the point.
  const head = '3059301306072a8648ce3d020106082a8648ce3d030107034200';
  const integer = (hex) => {
    const bytes = Buffer.from(hex, 'hex');
    const short = bytes.subarray(bytes.findIndex((byte) => byte !== 0));
    const positive = short[0] & 0x80 ? Buffer.concat([Buffer.of(0), short]) : short;
    return Buffer.concat([Buffer.of(2, positive.length), positive]);
  };
  const both = Buffer.concat([integer(values.signature.slice(0, 64)), integer(values.signature.slice(64))]);
  const [der, pem, text] = ['der', 'pem', 'text'].map((name) => join(folder, name));
  await writeFile(der, Buffer.concat([Buffer.of(0x30, both.length), both]));
  const spki = Buffer.from(head + key, 'hex').toString('base64').match(/.{1,64}/g).join('\n');
  await writeFile(pem, `-----BEGIN PUBLIC KEY-----\n${spki}\n-----END PUBLIC KEY-----\n`);
  await writeFile(text, `tawny chain 1\n${previous}`);
  return execFileSync('openssl', ['dgst', '-sha256', '-verify', pem, '-signature', der, text], {encoding: 'utf8'});
}

test('a phone founds a farm under its own key, and signs what it hands on', async () => {
  office = await Phone.start({...settings, query: '?demo'});
  const lines = await takenOut(office);
  const {farm, device} = entryOf(lines[0]);
  assert.match(device, /^k-[0-9a-f]{32}$/);
  assert.equal(farm, device);
  const key = entryOf(lines[0]).values.public_key;
  assert.equal(entryOf(lines[0]).kind, 'device_key');
  assert.equal(`k-${createHash('sha256').update(Buffer.from(key, 'hex')).digest('hex').slice(0, 32)}`, device);
  assert.equal(entryOf(lines.at(-1)).kind, 'chain_signed');
  assert.match(await opensslSays(lines.at(-1), key), /Verified OK/);
  const found = await check(lines);
  assert.equal(found.signed_farm, true);
  assert.deepEqual(found.left_out, []);
  assert.deepEqual(found.devices.map((one) => [one.founder, one.office, one.signed_to]), [[true, true, lines.length - 1]]);
});

test('the private key cannot be had out of the browser', async () => {
  const said = await office.page.evaluate(async () => {
    const open = indexedDB.open('tawny-demo');
    const database = await new Promise((done) => (open.onsuccess = () => done(open.result)));
    const ask = database.transaction('meta').objectStore('meta').get('key');
    const {privateKey} = await new Promise((done) => (ask.onsuccess = () => done(ask.result)));
    database.close();
    const tries = ['jwk', 'pkcs8', 'raw'].map((format) =>
      crypto.subtle.exportKey(format, privateKey).then(
        () => 'given',
        (error) => error.name,
      ),
    );
    return [privateKey.extractable, ...(await Promise.all(tries))];
  });
  assert.equal(said[0], false);
  assert.ok(!said.includes('given'), String(said));
});

test('a phone that joins is admitted by the words that both show, and counts from then on', async () => {
  phone = await Phone.start(settings);
  await joinByFile(phone, await takenOut(office));
  await phone.type('Your name', 'Tomo');
  await phone.activate('person/role/technician');
  await phone.activate('save');
  await phone.node('rounds/waiting');
  await phone.activate('rounds/phones');
  const shown = await wordsShown(phone);
  await phone.activate('back');

  const lines = await takenOut(phone);
  assert.ok((await check(lines)).left_out.every(({why}) => why === 'not_admitted'));
  await bringIn(office, lines);
  const id = entryOf(lines.find((line) => line.includes('"person":"Tomo"'))).device;
  await office.activate('office/devices/all');
  await office.activate(`device/${id}`);
  assert.equal(await wordsShown(office), shown);
  const {devices} = await check(lines);
  assert.equal(devices.find(({device}) => device === id).words, shown.replace(' \u00b7', ''));
  await office.activate('device/admit');
  await office.activate('save');
  await office.node('device/saved');
  while (await office.present('back')) await office.activate('back');
  const admitted = await takenOut(office);
  assert.deepEqual((await check(admitted)).left_out, []);
  await bringIn(phone, admitted);
  assert.equal(await phone.present('office/waiting'), false);
});

test('a line that somebody changed on the way is named by the phone and by the shell command, and does not count', async () => {
  const lines = await takenOut(phone);
  const at = lines.findIndex((line) => line.includes('"person":"Tomo"'));
  const forged = sealed(bodyOf(lines[at]).replace('"technician"', '"manager"'));
  const number = entryOf(forged).number;
  const found = await check([...lines.slice(0, at), forged, ...lines.slice(at + 1)]);
  assert.ok(found.problems.some((one) => one.id === 'trust.forged' && one.number === number), JSON.stringify(found.problems));
  assert.ok(found.left_out.some(({why}) => why === 'not_signed'));
  await bringIn(office, [forged]);
  await office.activate('office/devices/all');
  assert.match((await office.node('devices/problem/1')).name, /^Entry 2 of .* is not the one that the phone signed/);
});
