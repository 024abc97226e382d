/**
 * The worker's morning in the boat: from an empty browser to a recorded dose, and what a reload, a closed tab or a walk
 * broken off do to it.
 */
import assert from 'node:assert/strict';
import {afterEach, beforeEach, describe, test} from 'node:test';
import {Phone} from './harness.mjs';
import {added, chainFaults, storedLines} from './stored.mjs';

/** Shortly after sunrise at the demo farm, in the dose window. What these tests prove does not hang on sharpness. */
const morning = {time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}};

/** @type {Phone} */
let phone;
/** @type {string[]} what was stored before the walk */
let before;

afterEach(async () => {
  const errors = phone.errors;
  await phone.end();
  assert.deepEqual(errors, []);
});

const at = (/** @type {string} */ minute) => phone.setTime(`2026-11-25T11:${minute}:00Z`);
const newEntries = async () => added(before, await storedLines(phone.page));
const shown = async (/** @type {string} */ id) => (await phone.nodes()).find((node) => node.id === id);
const numbersIn = (/** @type {string} */ text) => (text.match(/\d+(\.\d+)?/g) ?? []).map(Number);

/** From Rounds to the first bin of Heron, whose first dose is due. */
async function startWalk() {
  before = await storedLines(phone.page);
  await phone.tap('button', 'Heron, Dose');
  await phone.tapNode('plan/sky/bright');
  await phone.tap('checkbox', 'We have read this');
  await phone.tap('button', 'Start the walk');
  await phone.waitFor('button', 'Bin 1 of 2 mixed');
}

/** @param {string} step such as "Bin 1 of 2 mixed" @param {string} next the button that comes after it */
async function tick(step, next) {
  await phone.tap('button', step);
  await phone.waitFor('button', next);
}

test('from an empty browser to "Dose recorded": the plan adds up, and what was done is what is stored', async () => {
  phone = await Phone.start(morning);
  assert.deepEqual(await storedLines(phone.page), [], 'nothing is made before anything is chosen');
  await phone.tapAndRestart('button', 'Look at the demo farm');
  before = await storedLines(phone.page);
  await phone.tap('button', 'Heron, Dose');

  const [rate] = numbersIn((await shown('plan/rate')).value);
  const [area] = numbersIn((await shown('plan/area')).name);
  const [kg] = numbersIn((await shown('plan/kg')).value);
  const [bins] = numbersIn((await shown('plan/bins')).value);
  const [perBin] = numbersIn((await shown('plan/per_bin')).name);
  const [bags, bagKg, restKg] = numbersIn((await shown('plan/bags')).name);
  assert.deepEqual([rate, area, kg, bins], [25, 1.3, 32.5, 2]);
  assert.equal(rate * area, kg);
  assert.ok(Math.abs(perBin * bins - kg) < 0.06 * bins, `${bins} bins of ${perBin} kg are ${kg} kg`);
  assert.equal(bags * bagKg + restKg, kg);

  assert.equal((await shown('save')).state, 'disabled', 'the sky is not told yet');
  await phone.tapNode('plan/sky/bright');
  assert.equal((await shown('save')).state, 'disabled', 'the cautions are not read yet');
  await phone.tap('checkbox', 'We have read this');
  for (const check of ['product', 'stage', 'troubles', 'rate', 'last_dose', 'sky', 'time', 'level']) {
    assert.ok(await shown(`plan/check/${check}`), `a line on ${check}`);
  }
  await phone.tap('button', 'Start the walk');

  await phone.waitFor('button', 'Bin 1 of 2 mixed');
  assert.deepEqual(numbersIn((await shown('walk/salt')).value), [perBin]);
  await at('30');
  await tick('Bin 1 of 2 mixed', 'Bin 1 of 2 spread');
  await at('40');
  await tick('Bin 1 of 2 spread', 'Bin 2 of 2 mixed');
  await at('50');
  await tick('Bin 2 of 2 mixed', 'Bin 2 of 2 spread');
  await at('58');
  await tick('Bin 2 of 2 spread', 'Record the dose');
  await phone.tap('button', 'Record the dose');
  await phone.waitFor('heading', 'Dose recorded');

  const stored = await newEntries();
  assert.deepEqual(
    stored.map(({kind, pond, values}) => [kind, pond, values.step, values.bin]),
    [
      ['dose_walk_start', 'p3', undefined, undefined],
      ['dose_step', 'p3', 'mixed', 1],
      ['dose_step', 'p3', 'spread', 1],
      ['dose_step', 'p3', 'mixed', 2],
      ['dose_step', 'p3', 'spread', 2],
      ['dose', 'p3', undefined, undefined],
    ],
  );
  const {started, ended, nitrate_n_mg_l: _, walk, ...dose} = stored[5].values;
  assert.deepEqual(dose, {
    product: 'calcium_nitrate_fertilizer',
    product_kg: 32.5,
    bins: 2,
    coverage: 'whole',
    dissolved: true,
    sky: 'bright',
    rate_kg_ha: 25,
    area_ha: 1.3,
  });
  assert.equal(walk, stored[0].values.walk);
  assert.equal(started, stored[1].observed);
  assert.equal(ended, stored[4].observed);
  assert.match(started, /^2026-11-25T11:30/);
  assert.match(ended, /^2026-11-25T11:58/);
  assert.deepEqual(chainFaults(await storedLines(phone.page)), []);

  await phone.tap('button', 'Back to Rounds');
  await phone.waitFor('button', 'Heron, Dose: 32.5 kg');
});

describe('in the middle of a walk', () => {
  beforeEach(async () => {
    phone = await Phone.start({...morning, query: '?demo'});
    await startWalk();
  });

  const sight = async () => (await phone.nodes()).map(({id, name, value, state}) => [id, name, value, state]);

  /** The tab is closed, and the app opened anew in the same browser. */
  async function closeAndOpen() {
    const {browser, context, server, errors, ownsServer} = phone;
    const time = new Date(await phone.page.evaluate(() => Date.now())).toISOString();
    await phone.page.close();
    phone = await Phone.start({query: '?demo', time, server, context});
    phone.errors.push(...errors);
    Object.assign(phone, {browser, ownsServer});
  }

  for (const [what, act] of [
    ['a reload', () => phone.reload()],
    ['closing the tab', closeAndOpen],
  ]) {
    test(`${what} after any step comes back to the same bin and step`, async () => {
      const steps = [
        undefined,
        ['Bin 1 of 2 mixed', 'Bin 1 of 2 spread'],
        ['Bin 1 of 2 spread', 'Bin 2 of 2 mixed'],
        ['Bin 2 of 2 mixed', 'Bin 2 of 2 spread'],
        ['Bin 2 of 2 spread', 'Record the dose'],
      ];
      for (const step of steps) {
        if (step) await tick(...step);
        const left = await sight();
        await act();
        assert.deepEqual(await sight(), left, `after ${step?.[0] ?? 'the start'}`);
      }
      assert.equal((await newEntries()).length, 5, 'each step is stored once');
    });
  }

  test('a walk broken off records what was spread, and no more', async () => {
    await tick('Bin 1 of 2 mixed', 'Bin 1 of 2 spread');
    await tick('Bin 1 of 2 spread', 'Bin 2 of 2 mixed');
    await tick('Bin 2 of 2 mixed', 'Bin 2 of 2 spread');
    await phone.tap('button', 'Stop the walk');
    assert.equal((await shown('save')).state, 'disabled', 'a reason is asked for');
    await phone.type('Reason', 'Wind came up');
    await phone.tap('button', 'Stop and record what was spread');
    await phone.waitFor('heading', 'Dose recorded');
    const [dose, stop] = (await newEntries()).slice(-2);
    assert.equal(dose.kind, 'dose');
    assert.deepEqual([dose.values.product_kg, dose.values.bins, dose.values.coverage], [16.25, 1, 'part']);
    assert.equal(dose.values.rate_kg_ha, 12.5);
    assert.equal(stop.kind, 'dose_walk_stop');
    assert.equal(stop.values.reason, 'Wind came up');
    await phone.reload();
    await phone.waitFor('heading', 'Rounds');
  });

  test('a walk broken off before anything was spread records no dose', async () => {
    await tick('Bin 1 of 2 mixed', 'Bin 1 of 2 spread');
    await phone.tap('button', 'Stop the walk');
    await phone.type('Reason', 'Lightning');
    await phone.tap('button', 'Stop without a dose');
    await phone.waitFor('heading', 'Walk stopped');
    assert.deepEqual(
      (await newEntries()).map(({kind}) => kind),
      ['dose_walk_start', 'dose_step', 'dose_walk_stop'],
    );
    await phone.tap('button', 'Back to Rounds');
    await phone.waitFor('button', 'Heron, Dose, until');
  });
});
