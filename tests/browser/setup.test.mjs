/**
 * A farm's first day with the app: set-up on two sizes of phone, the logbook carried to a second phone as a file, and a
 * store that was emptied behind the app's back.
 */
import assert from 'node:assert/strict';
import {readFile} from 'node:fs/promises';
import {after, afterEach, before, describe, test} from 'node:test';
import {serve} from '../../web/serve.mjs';
import {Phone, distFolder} from './harness.mjs';
import {added, chainFaults, resealed, storedEntries, storedLines} from './stored.mjs';

const time = '2026-11-25T16:00:00Z';
let server;
/** @type {Phone} */
let phone;

before(async () => {
  server = await serve({dir: distFolder()});
});
after(() => server.close());
afterEach(async () => {
  const errors = phone.errors;
  await phone.end();
  assert.deepEqual(errors, []);
});

async function newPhone({width = 390, height = 844} = {}) {
  const size = {width, height};
  const settings = {deviceScaleFactor: 1, viewport: size, screen: size};
  phone = await Phone.start({server, time, timezone: 'Etc/GMT+5', settings});
}

const lines = () => storedLines(phone.page, 'own');
const alarm = 'Entries missing on this device';

/** @param {string} field id of the field @param {string} digits */
async function number(field, digits) {
  await phone.tapNode(field);
  await phone.keys(digits);
  await phone.tap('button', 'OK');
}

/** From the welcome screen to Rounds: a farm of two ponds, one by its banks and one by a survey. */
async function setUp(/** @type {string} */ farm) {
  await phone.tap('button', 'Set up my farm');
  await phone.type('Name of the farm', farm);
  await number('farm/latitude', '-2.41');
  await number('farm/longitude', '-81.6');
  await phone.type('Your name', 'Ada');
  await phone.tap('radio', 'Manager');
  await phone.tapNode('save');

  await phone.waitFor('heading', 'New pond');
  await phone.type('Name of the pond', 'North');
  await number('pond/bottom_length', '100');
  await number('pond/bottom_width', '80');
  await number('pond/depth', '1.5');
  await number('pond/bank_slope', '2');
  await phone.tapNode('save');

  await phone.waitFor('text', '1 pond so far');
  await phone.type('Name of the pond', 'South');
  await phone.tap('radio', 'A survey');
  for (const [row, level, area] of [
    ['survey1', '0', '6000'],
    ['survey2', '140', '9000'],
  ]) {
    await number(`${row}/level`, level);
    await number(`${row}/area`, area);
  }
  await phone.tapNode('save');

  await phone.waitFor('text', '2 ponds so far');
  await phone.tap('button', 'Enough ponds');
  await number('bin/bin_volume', '180');
  await phone.tap('checkbox', 'Sodium nitrate');
  await phone.tapNode('save');
  await phone.waitFor('heading', 'Rounds');
}

/** Takes the logbook out at the Office; gives the file's name and text. */
async function takeOut() {
  await phone.tap('tab', 'Office');
  const downloading = phone.page.waitForEvent('download');
  await phone.tapNode('office/out/share');
  const download = await downloading;
  return {name: download.suggestedFilename(), text: await readFile(await download.path(), 'utf8')};
}

/** Hands the app a file where it asks for one. @param {string} button id @param {string} text */
async function bringIn(button, text) {
  const choosing = phone.page.waitForEvent('filechooser');
  await phone.tapNode(button);
  const chooser = await choosing;
  await chooser.setFiles({name: 'logbook.jsonl', mimeType: 'text/plain', buffer: Buffer.from(text)});
}

/** A new phone that joined the farm of that file, held by Ben. @param {string} text */
async function joined(text) {
  await newPhone();
  await bringIn('welcome/join', text);
  await phone.tap('button', 'Add to the logbook');
  await phone.waitFor('textfield', 'Your name');
  await phone.type('Your name', 'Ben');
  await phone.tap('radio', 'Technician');
  await phone.tapNode('save');
  await phone.waitFor('heading', 'Rounds');
}

/** The browser loses the whole database; what stands beside it stays. */
async function loseStore() {
  await phone.page.evaluate(
    () =>
      new Promise((resolve, reject) => {
        const losing = indexedDB.deleteDatabase('tawny-own');
        losing.onsuccess = resolve;
        losing.onerror = () => reject(losing.error);
      }),
  );
  await phone.reload();
}

for (const size of [
  {width: 390, height: 844},
  {width: 360, height: 640},
]) {
  test(`a farm is set up on a phone of ${size.width} x ${size.height}, and its first work is due`, async () => {
    await newPhone(size);
    await setUp('Tern Flats');
    for (const pond of ['North', 'South']) await phone.find('button', `${pond}, Look at the bottom`);

    const entries = await storedEntries(phone.page, 'own');
    const only = (/** @type {string} */ kind) => entries.filter((entry) => entry.kind === kind);
    const [farm] = only('farm_setup');
    assert.deepEqual(farm.values, {
      name: 'Tern Flats',
      latitude_deg: -2.41,
      longitude_deg: -81.6,
      utc_offset_min: -300,
    });
    assert.deepEqual(only('device_setup')[0].values, {person: 'Ada', role: 'manager'});
    const [north, south] = only('pond_setup').map(({values}) => values);
    assert.deepEqual(
      [north.name, north.bottom_length_m, north.bottom_width_m, north.depth_m, north.bank_slope],
      ['North', 100, 80, 1.5, 2],
    );
    // The water at the brim: 2 m out for 1 m up, on both sides.
    assert.ok(Math.abs(north.nominal_area_ha - (106 * 86) / 10_000) < 1e-9);
    assert.deepEqual(
      [south.name, south.survey_level_cm, south.survey_area_m2, south.nominal_area_ha],
      ['South', [0, 140], [6000, 9000], 0.9],
    );
    assert.equal(only('cycle_start').length, 2);
    assert.equal(only('bin_setup')[0].values.bin_volume_l, 180);
    assert.deepEqual(
      only('product_setup').map(({values}) => [values.product, values.in_use]),
      [['sodium_nitrate', true]],
    );
    assert.deepEqual(chainFaults(await lines()), []);
  });
}

describe('with a logbook file', () => {
  /** @type {string} the file of a farm that was set up on another phone */
  let file;

  before(async () => {
    await newPhone();
    await setUp('Tern Flats');
    const {name, text} = await takeOut();
    assert.match(name, /^tawny-tern-flats-2026-11-25\./);
    const [index, ...rest] = text.split('\n');
    assert.equal(JSON.parse(index).bundle, 1);
    assert.equal(rest.join('\n'), (await lines()).map((line) => `${line}\n`).join(''), 'every line, byte for byte');
    file = text;
    await phone.end();
  });

  test('a second phone joins: it holds the same entries, and writes under its own name', async () => {
    await joined(file);
    const [key, ben, ...more] = added(file.split('\n'), await lines());
    assert.deepEqual(more, []);
    assert.deepEqual([key.kind, key.number, key.device], ['device_key', 1, ben.device], 'its key goes first');
    assert.deepEqual(ben.values, {person: 'Ben', role: 'technician'});
    assert.ok(!file.includes(`"device":"${ben.device}"`), 'its own device');
    assert.equal(ben.number, 2);
    assert.ok(file.split('\n').every((line) => line === '' || line.includes(`"farm":"${ben.farm}"`)));
    assert.deepEqual(chainFaults(await lines()), []);
  });

  test('the file of another farm is not taken, and the reason is said', async () => {
    await joined(file);
    const kept = await lines();
    const theirs = file.replaceAll(/"farm":"[^"]*"/g, '"farm":"elsewhere"').trim().split('\n');
    await phone.tap('tab', 'Office');
    await bringIn('office/in/pick', `${resealed(theirs).join('\n')}\n`);
    const said = await phone.node('incoming/other_farm');
    assert.match(said.name, /of farm “Tern Flats \(elsewhere\)”.*of farm “Tern Flats \(/);
    assert.equal((await phone.node('incoming/accept')).state, 'disabled');
    assert.deepEqual(await lines(), kept);
  });

  test('a store that came back empty is an alarm, and the file mends it', async () => {
    await joined(file);
    const {text} = await takeOut();
    const kept = await lines();
    await loseStore();
    await phone.waitFor('alert', alarm);
    assert.equal((await phone.node('welcome/own')).state, 'disabled', 'nothing is written until it is decided');
    assert.deepEqual(await lines(), []);
    await bringIn('welcome/join', text);
    await phone.tap('button', 'Add to the logbook');
    await phone.waitFor('heading', 'Rounds');
    assert.deepEqual(await lines(), kept);
    await phone.reload();
    await phone.waitFor('heading', 'Rounds');
    assert.equal(await phone.look('alert', alarm), undefined);
    await phone.node('rounds/key_lost');
    await phone.tapAndRestart('button', 'Start under a new number');
    await phone.waitFor('textfield', 'Your name');
    assert.deepEqual(await lines(), kept, 'under a new key, nothing is lost');
  });

  test('a store that came back empty can be left behind: under a new device, no number is used twice', async () => {
    await joined(file);
    const old = added(file.split('\n'), await lines())[0].device;
    await loseStore();
    await phone.tapAndRestart('button', 'Go on with what is here');
    assert.equal(await phone.look('alert', alarm), undefined);
    await bringIn('welcome/join', file);
    await phone.tap('button', 'Add to the logbook');
    await phone.waitFor('textfield', 'Your name');
    await phone.type('Your name', 'Ben');
    await phone.tapNode('save');
    await phone.waitFor('heading', 'Rounds');
    const [, ben] = added(file.split('\n'), await lines());
    assert.notEqual(ben.device, old);
    assert.equal(ben.number, 2);
  });
});
