/**
 * Back-up and restore of the office, as a person runs them, on real segments and damaged ones.
 */
import assert from 'node:assert/strict';
import {mkdir, readFile, rm, stat, writeFile} from 'node:fs/promises';
import {dirname, join} from 'node:path';
import {after, beforeEach, test} from 'node:test';
import {addUsers, filesIn, folderFor, freePort, isRoot, office, run, segmentName, setUp, users} from './servers.mjs';

const roots = [];
let root;
let archive;
const text = (/** @type {number} */ number) => `{"v":1,"number":${number}}\n`;
const names = [1, 2, 1001].map((number) => segmentName(`ana/phone-${number}`, number, text(number)));

async function newOffice() {
  const made = await folderFor('office');
  roots.push(made);
  const app = join(made, 'built');
  await mkdir(app);
  const policy = "default-src 'self'; connect-src 'self'";
  await writeFile(join(app, 'index.html'), `<meta http-equiv="Content-Security-Policy" content="${policy}">`);
  const {code, said} = await setUp(made, ['--app', app, '--trial', '--port', String(await freePort())]);
  assert.equal(code, 0, said);
  return made;
}

async function write(name, content, where = root) {
  const path = join(where, 'depot', name);
  await mkdir(dirname(path), {recursive: true});
  await writeFile(path, content);
}

const call = (script, at = root) =>
  run(join(office, script), [archive, '--root', at]).then(
    ({stdout, stderr}) => ({code: 0, out: stdout.trim(), said: stderr}),
    ({code, stdout, stderr}) => ({code, out: stdout.trim(), said: stderr}),
  );
const depotFiles = (at = root) => filesIn(join(at, 'depot'));

beforeEach(async () => {
  root = await newOffice();
  archive = join(root, 'archive.tar.gz');
  await addUsers(root, users);
  for (const [i, number] of [1, 2, 1001].entries()) await write(names[i], text(number));
});
after(() => Promise.all(roots.map((made) => rm(made, {recursive: true, force: true}))));

test('what was lost comes back, whole, with its users, on a new machine', async () => {
  assert.deepEqual(await call('back-up').then(({code, out}) => [code, out]), [0, '']);
  const other = await newOffice();
  assert.equal((await call('restore', other)).code, 0);
  assert.deepEqual(await depotFiles(other), [...names].sort());
  for (const [i, number] of [1, 2, 1001].entries()) {
    assert.equal(await readFile(join(other, 'depot', names[i]), 'utf8'), text(number));
  }
  assert.equal(await readFile(join(other, 'users'), 'utf8'), await readFile(join(root, 'users'), 'utf8'));
  if (isRoot) {
    const {uid} = await stat(join(other, 'depot'));
    for (const path of ['depot/ana', 'depot/ana/phone-1/0', `depot/${names[0]}`]) {
      assert.equal((await stat(join(other, path))).uid, uid, `${path} belongs to the web server`);
    }
  }
});

test('restoring twice, or over newer entries, takes nothing away', async () => {
  assert.equal((await call('back-up')).code, 0);
  const newer = segmentName('ben/phone-2', 3, text(3));
  await write(newer, text(3));
  await rm(join(root, 'depot', names[1]));
  for (let time = 0; time < 2; ++time) {
    assert.equal((await call('restore')).code, 0);
    assert.deepEqual(await depotFiles(), [...names, newer].sort());
  }
});

test('a damaged file of the depot is named, backed up all the same, and replaced from an older back-up', async () => {
  assert.equal((await call('back-up')).code, 0);
  const whole = archive;
  await write(names[0], 'damaged');
  await write(names[2], '');
  archive = join(root, 'second.tar.gz');
  const second = await call('back-up');
  assert.equal(second.code, 3);
  assert.deepEqual(second.out.split('\n').sort(), [names[0], names[2]].sort());
  archive = whole;
  assert.equal((await call('restore')).code, 0);
  assert.equal(await readFile(join(root, 'depot', names[0]), 'utf8'), text(1));
  assert.equal(await readFile(join(root, 'depot', names[2]), 'utf8'), text(1001));
});

test('a damaged file of an archive is left out and named, and does not replace a whole one', async () => {
  await write(names[0], 'damaged');
  assert.equal((await call('back-up')).code, 3);
  await write(names[0], text(1));
  const {code, out} = await call('restore');
  assert.equal(code, 3);
  assert.equal(out, names[0]);
  assert.equal(await readFile(join(root, 'depot', names[0]), 'utf8'), text(1));
});

test('what a server has not finished is not backed up', async () => {
  await write('ana/phone-1/0/.davfs.tmp12ab', 'half');
  assert.equal((await call('back-up')).code, 0);
  const other = await newOffice();
  assert.equal((await call('restore', other)).code, 0);
  assert.deepEqual(await depotFiles(other), [...names].sort());
});

test('a cut-off archive, and one that is something else, changes nothing', async () => {
  assert.equal((await call('back-up')).code, 0);
  const bytes = await readFile(archive);
  for (const content of [bytes.subarray(0, bytes.length / 2), Buffer.from('no archive'), Buffer.alloc(0)]) {
    await writeFile(archive, content);
    await rm(join(root, 'depot', names[1]), {force: true});
    assert.equal((await call('restore')).code, 1);
    assert.deepEqual(await depotFiles(), [names[0], names[2]].sort());
  }
});

test('an archive that holds links is refused', async () => {
  const evil = await folderFor('evil');
  roots.push(evil);
  await mkdir(join(evil, 'depot'));
  await run('ln', ['-s', '/etc', join(evil, 'depot/ana')]);
  await writeFile(join(evil, 'users'), '');
  await run('tar', ['-C', evil, '-czf', archive, 'depot', 'users']);
  const {code, said} = await call('restore');
  assert.equal(code, 1);
  assert.match(said, /more than files/);
  assert.deepEqual(await depotFiles(), [...names].sort());
});

test('the archive is for its owner only, and a failed one leaves no file', async () => {
  assert.equal((await call('back-up')).code, 0);
  assert.equal((await stat(archive)).mode & 0o77, 0);
  archive = join(root, 'nowhere/archive.tar.gz');
  assert.equal((await call('back-up')).code, 1);
  assert.equal((await call('restore')).code, 1);
});
