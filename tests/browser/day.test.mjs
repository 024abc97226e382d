/**
 * The technician's day on the walkways: dawn, the sun's peak and the afternoon at two ponds; then what the app says to
 * a value that is odd or cannot be, and how an entry is taken back or corrected.
 */
import assert from 'node:assert/strict';
import {afterEach, describe, test} from 'node:test';
import {Phone} from './harness.mjs';
import {added, chainFaults, storedLines} from './stored.mjs';

/** @type {Phone} */
let phone;
/** @type {string[]} */
let before;

async function open(/** @type {string} */ time) {
  phone = await Phone.start({query: '?demo', time, timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}});
  before = await storedLines(phone.page);
}
afterEach(async () => {
  const errors = phone.errors;
  await phone.end();
  assert.deepEqual(errors, []);
});

const newEntries = async () => added(before, await storedLines(phone.page));
const shown = async (/** @type {string} */ id) => (await phone.nodes()).find((node) => node.id === id);
const reference = ({device, number, hash}) => `${device}/${number}/${hash.slice(0, 16)}`;

/** The entry is on the screen: types its values and saves. */
async function oxygen(/** @type {string} */ mgL, /** @type {string} */ ph, /** @type {string} */ celsius) {
  await phone.keys(mgL);
  await phone.tap('button', 'Next: pH');
  await phone.keys(ph);
  await phone.tap('button', 'Next: Temp');
  await phone.keys(celsius);
  await save();
}
async function secchi(/** @type {string} */ vanishes, /** @type {string} */ comesBack) {
  await phone.keys(vanishes);
  await phone.tap('button', 'Next: Comes back');
  await phone.keys(comesBack);
}
async function save() {
  await phone.tap('button', 'Save');
  await phone.waitFor('text', 'Saved');
}

test('a day at two ponds: each reading says when it was saved, leads to the next pond, and is on the pond page', async () => {
  await open('2026-11-25T10:52:00Z');
  await phone.tap('button', 'Saltbush, Read oxygen and pH');
  await oxygen('4.9', '7.91', '26.8');
  assert.match((await shown('entry/saved')).name, /^Saved 05:5\d$/);
  await phone.tap('button', 'Next: Old Gate');
  await oxygen('5.6', '7.85', '26.9');
  await phone.tap('button', 'Done');

  await phone.setTime('2026-11-25T16:40:00Z');
  await phone.tap('button', 'Saltbush, Read Secchi');
  await secchi('52', '48');
  await save();
  assert.match((await shown('entry/saved')).name, /^Saved 11:4\d$/);
  await phone.tap('button', 'Next: Old Gate');
  await secchi('84', '80');
  await save();
  await phone.tap('button', 'Done');
  await phone.tap('button', 'Saltbush, Look at the colour');
  await phone.tap('radio', 'Golden brown');
  await save();
  await phone.tap('button', 'Next: Old Gate');
  await phone.tap('radio', 'Clear');
  await save();
  await phone.tap('button', 'Done');

  await phone.setTime('2026-11-25T20:15:00Z');
  await phone.tap('button', 'Saltbush, Read oxygen and pH');
  await oxygen('9.1', '8.52', '29.5');
  await phone.tap('button', 'Next: Old Gate');
  await oxygen('6.2', '7.97', '29.3');
  await phone.tap('button', 'Done');

  assert.deepEqual(
    (await newEntries()).map(({kind, pond, observed, values}) => [observed.slice(11, 15), pond, kind, values]),
    [
      ['10:5', 'p6', 'water_reading', {do_mg_l: 4.9, ph: 7.91, temperature_c: 26.8}],
      ['10:5', 'p7', 'water_reading', {do_mg_l: 5.6, ph: 7.85, temperature_c: 26.9}],
      ['16:4', 'p6', 'secchi_reading', {secchi_vanish_cm: 52, secchi_return_cm: 48}],
      ['16:4', 'p7', 'secchi_reading', {secchi_vanish_cm: 84, secchi_return_cm: 80}],
      ['16:4', 'p6', 'water_colour', {colour: 'golden_brown'}],
      ['16:4', 'p7', 'water_colour', {colour: 'clear'}],
      ['20:1', 'p6', 'water_reading', {do_mg_l: 9.1, ph: 8.52, temperature_c: 29.5}],
      ['20:1', 'p7', 'water_reading', {do_mg_l: 6.2, ph: 7.97, temperature_c: 29.3}],
    ],
  );
  assert.deepEqual(chainFaults(await storedLines(phone.page)), []);

  await phone.tap('tab', 'Ponds');
  await phone.tap('button', 'Saltbush');
  for (const [reading, value] of [
    ['secchi', '50 cm'],
    ['do_mg_l', '9.1 mg/L'],
    ['ph', '8.5'],
    ['temperature_c', '29.5 °C'],
    ['colour', 'golden brown'],
  ]) {
    assert.ok((await shown(`pond/reading/${reading}`)).value.startsWith(value), reading);
  }
  assert.match((await shown('pond/column')).name, /golden brown.*Secchi 50 cm/);
});

describe('before it is saved', () => {
  test('an odd value is asked about: it can be changed, or saved as it is', async () => {
    await open('2026-11-25T10:52:00Z');
    await phone.tap('button', 'Saltbush, Read oxygen and pH');
    await phone.keys('25');
    await phone.tap('button', 'Save');
    assert.match((await shown('entry/questioned/1')).name, /^Oxygen 25 mg\/L: is that in mg\/L\? As percent of saturation it would be 1\.\d mg\/L\.$/);
    assert.match((await shown('entry/questioned/2')).name, /^Oxygen 25\.0 mg\/L is \d+ % .*More than 250 % is rare/);
    assert.deepEqual(await newEntries(), []);
    await phone.tap('button', 'Change it');
    assert.equal((await shown('entry/value')).value, '25 mg/L', 'what was typed is still there');
    await phone.tap('button', 'Save');
    await phone.tap('button', 'Yes, save');
    await phone.waitFor('text', 'Saved');
    assert.deepEqual(
      (await newEntries()).map(({values}) => values),
      [{do_mg_l: 25}],
    );
  });

  test('a value that cannot be stays on the screen with its reason', async () => {
    await open('2026-11-25T16:40:00Z');
    await phone.tap('button', 'Old Gate, Read Secchi');
    await secchi('250', '246');
    await phone.tap('button', 'Save');
    const {role, name} = await shown('entry/refused/1');
    assert.equal(role, 'alert');
    assert.match(name, /^Secchi 250 cm is deeper than the water here \(\d+ cm\)\. Seen on the bottom\?$/);
    assert.equal((await shown('entry/value')).value, '246 cm');
    assert.deepEqual(await newEntries(), []);
  });
});

describe('after it is saved', () => {
  async function saveSecchi() {
    await open('2026-11-25T16:40:00Z');
    await phone.tap('button', 'Old Gate, Read Secchi');
    await secchi('84', '80');
    await save();
    return (await newEntries())[0];
  }

  test('taking back voids it: both entries stay, and the work is due again', async () => {
    const reading = await saveSecchi();
    await phone.tap('button', 'Take back');
    await phone.waitFor('text', 'Taken back 11:4');
    const [kept, taken] = await newEntries();
    assert.deepEqual(kept, reading);
    assert.equal(taken.voids, reference(reading));
    await phone.tap('button', 'Done');
    await phone.waitFor('button', 'Old Gate, Read Secchi, until');
  });

  test('the Logbook corrects it: the new values count, at the time when they were read', async () => {
    const reading = await saveSecchi();
    await phone.tap('button', 'Done');
    await phone.setTime('2026-11-25T17:30:00Z');
    await phone.tap('tab', 'Logbook');
    await phone.tap('button', 'Old Gate · Secchi, 82 cm');
    await phone.tap('button', 'Correct it');
    await secchi('74', '70');
    await phone.tap('button', 'Save the correction');
    await phone.waitFor('text', 'Saved');
    const [kept, correction] = await newEntries();
    assert.deepEqual(kept, reading);
    assert.equal(correction.corrects, reference(reading));
    assert.deepEqual(correction.values, {secchi_vanish_cm: 74, secchi_return_cm: 70});
    assert.equal(correction.observed, reading.observed);
    assert.ok(correction.recorded > reading.recorded);
    await phone.tap('button', 'Done');
    assert.match((await phone.node('entry/corrected')).name, /^A later entry corrects this one/);
  });
});
