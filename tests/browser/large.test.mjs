/**
 * A hundred thousand entries in one file, as a farm has them after some seasons, on one phone.
 */
import assert from 'node:assert/strict';
import {createHash} from 'node:crypto';
import {mkdtemp, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {test} from 'node:test';
import {Phone} from './harness.mjs';
import {storedLines} from './stored.mjs';

const morning = {time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}};
const kPhones = 20;
const kEach = 5000;
const kPatienceMs = 180_000;

/** One phone's readings, chained and hashed by the rules of core/logbook/FORMAT.md. @param {number} phone */
function readingsOf(phone) {
  let previous = '0'.repeat(64);
  return Array.from({length: kEach}, (_, i) => {
    const at = new Date(Date.UTC(2026, 10, 1) + (phone * kEach + i) * 10_000).toISOString().replace('.000', '');
    const head = {v: 1, farm: 'demo', device: `phone-${phone}`, number: i + 1, lamport: i + 1, observed: at, recorded: at};
    const values = {do_mg_l: 4 + (i % 50) / 10, ph: 7.5 + (i % 10) / 10};
    const all = {...head, who: 'Ines', pond: `p${1 + (i % 7)}`, kind: 'water_reading', values, previous};
    const body = JSON.stringify(all).slice(0, -1);
    previous = createHash('sha256').update(body).digest('hex');
    return `${body},"hash":"${previous}"}`;
  });
}

/** @param {Phone} phone @param {string} way @param {string} file */
async function pick(phone, way, file) {
  const [chooser] = await Promise.all([phone.page.waitForEvent('filechooser'), phone.activate(way)]);
  await chooser.setFiles(file);
  await phone.waitFor('text', 'large.txt');
  await phone.page.locator('#mirror [data-node="incoming/new"]').waitFor({state: 'attached', timeout: kPatienceMs});
}

test('are brought in, are there after a restart, and a second time bring nothing new', {timeout: 600_000}, async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tawny-large-'));
  const demo = await Phone.start({...morning, query: '?demo', keyless: true});
  const lines = await storedLines(demo.page, 'demo');
  await demo.end();
  for (let phone = 0; phone < kPhones; ++phone) lines.push(...readingsOf(phone));
  const file = join(folder, 'large.txt');
  await writeFile(file, `${lines.join('\n')}\n`);

  const phone = await Phone.start({...morning, query: '?own'});
  try {
    await pick(phone, 'welcome/join', file);
    await phone.activate('incoming/accept');
    await phone.page.locator('#mirror [data-node="person/name"]').waitFor({state: 'attached', timeout: kPatienceMs});
    await phone.reload();
    await phone.tap('tab', 'Office');
    assert.equal((await phone.node('office/entries')).value.replace(/\D/g, ''), String(lines.length));
    await pick(phone, 'office/in/pick', file);
    assert.match((await phone.node('incoming/new')).name, /^(No|0) new/);
    assert.deepEqual(phone.errors, []);
  } finally {
    await phone.end();
    await rm(folder, {recursive: true, force: true});
  }
});
