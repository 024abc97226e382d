/**
 * The filling plan by touch: a pump's rate changes the hours, is kept as an entry, and stands after a reload.
 */
import assert from 'node:assert/strict';
import {afterEach, test} from 'node:test';
import {Phone} from './harness.mjs';
import {storedLines} from './stored.mjs';

/** @type {Phone} */
let phone;
afterEach(async () => {
  const errors = phone.errors;
  await phone.end();
  assert.deepEqual(errors, []);
});

async function openPlan() {
  await phone.tap('tab', 'Ponds');
  await phone.tapNode('pond/p3');
  await phone.tap('button', 'Plan the filling');
}

const hours = async () => Number.parseFloat((await phone.node('filling/hours')).value);

test('a pump twice as strong fills in less than half the time, and stays set up', async () => {
  const settings = {deviceScaleFactor: 1};
  phone = await Phone.start({query: '?demo', time: '2026-11-25T16:40:00Z', timezone: 'Etc/GMT+5', settings});
  await openPlan();
  const before = await hours();
  const entries = (await storedLines(phone.page)).length;
  const plot = await phone.node('filling/plot');
  assert.equal(plot.role, 'image');
  await phone.tap('button', 'pump');
  const rate = Number.parseFloat((await phone.node('inlet/rate_l_s')).value);
  await phone.tapNode('inlet/rate_l_s');
  await phone.keys(String(2 * rate));
  await phone.tap('button', 'OK');
  await phone.tap('button', 'Save');
  await phone.waitFor('text', 'Time to fill');
  const after = await hours();
  // The losses are the same, so that twice the inflow gains more than twice the level an hour.
  assert.ok(after < before / 2 && after > before / 2.5, `${before} h, then ${after} h`);
  assert.equal((await storedLines(phone.page)).length, entries + 1);
  await phone.reload();
  await openPlan();
  assert.ok(Math.abs((await hours()) - after) < 0.2);
});
