/**
 * The calculators by touch: from the office to a list, a number typed with the app's keys, the answer with its source;
 * and what a pond's page fills in.
 */
import assert from 'node:assert/strict';
import {afterEach, test} from 'node:test';
import {Phone} from './harness.mjs';
import {storedLines} from './stored.mjs';

/** @type {Phone} */
let phone;
async function open() {
  const settings = {deviceScaleFactor: 1};
  phone = await Phone.start({query: '?demo', time: '2026-11-25T16:40:00Z', timezone: 'Etc/GMT+5', settings});
}
afterEach(async () => {
  const errors = phone.errors;
  await phone.end();
  assert.deepEqual(errors, []);
});

const value = async (/** @type {string} */ id) => (await phone.node(id)).value;

async function give(/** @type {string} */ label, /** @type {string} */ digits) {
  await phone.tap('button', label);
  await phone.keys(digits);
  await phone.tap('button', 'OK');
}

test('oxygen at saturation is reckoned as soon as both values are there, with its source, and nothing is stored', async () => {
  await open();
  const before = await storedLines(phone.page);
  await phone.tap('tab', 'Office');
  await phone.tap('button', 'Reckon by hand');
  await phone.tap('button', 'Oxygen saturation');
  await phone.tap('radio', 'None');
  await give('Temperature', '25');
  await phone.waitFor('text', 'Still missing: Salinity');
  await give('Salinity', '0');
  assert.equal(await value('reckon/result/oxygen_saturation_mg_l'), '8.26 mg/L');
  await phone.waitFor('text', 'Source: Benson & Krause 1984');
  // The answer is in sight without a finger's help.
  const {rect} = await phone.node('reckon/result/oxygen_saturation_mg_l');
  assert.ok(rect.y > 0 && rect.y + rect.height < 844);
  await phone.tap('button', 'Back');
  await phone.tap('button', 'Oxygen saturation');
  assert.equal(await value('reckon/in/temperature_c'), '25 °C');
  assert.deepEqual(await storedLines(phone.page), before);
});

test('a pond fills in its last readings', async () => {
  await open();
  await phone.tap('tab', 'Ponds');
  await phone.tapNode('pond/p5');
  await phone.tap('button', 'Reckon by hand');
  await phone.tap('button', 'Oxygen saturation');
  assert.match(await value('reckon/in/temperature_c'), /^\d+(\.\d)? °C$/);
  assert.match(await value('reckon/result/oxygen_percent'), /^\d+ %$/);
});
