/**
 * No network and no mercy: the day's work with the server gone, and a browser killed at any moment.
 */
import assert from 'node:assert/strict';
import {afterEach, beforeEach, describe, test} from 'node:test';
import {serve} from '../../web/serve.mjs';
import {KillableBrowser, Phone, distFolder} from './harness.mjs';
import {added, chainFaults, storedLines} from './stored.mjs';

const demo = {query: '?demo', timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}};

describe('with the server gone', () => {
  /** @type {Phone} */
  let phone;
  let server;

  beforeEach(async () => {
    server = await serve({dir: distFolder()});
    phone = await Phone.start({...demo, server, time: '2026-11-25T11:20:00Z'});
    assert.equal(await phone.offlineReady(), true);
    await server.close();
    await phone.reload();
  });
  afterEach(async () => {
    const errors = phone.errors;
    await phone.end();
    assert.deepEqual(errors, []);
  });

  test('the morning goes on, through one more reload in the middle of the walk', async () => {
    const before = await storedLines(phone.page);
    await phone.tap('button', 'Heron, Dose');
    await phone.tapNode('plan/sky/bright');
    await phone.tapNode('plan/confirm');
    await phone.tap('button', 'Start the walk');
    await phone.waitFor('button', 'Bin 1 of 2 mixed');
    await phone.tap('button', 'Bin 1 of 2 mixed');
    await phone.waitFor('button', 'Bin 1 of 2 spread');
    await phone.reload();
    for (const step of ['Bin 1 of 2 spread', 'Bin 2 of 2 mixed', 'Bin 2 of 2 spread', 'Record the dose']) {
      await phone.waitFor('button', step);
      await phone.tap('button', step);
    }
    await phone.waitFor('heading', 'Dose recorded');
    const dose = added(before, await storedLines(phone.page)).pop();
    assert.deepEqual([dose.kind, dose.pond, dose.values.product_kg], ['dose', 'p3', 32.5]);
    await phone.reload();
    assert.deepEqual(chainFaults(await storedLines(phone.page)), []);
  });

  test('the day goes on: dawn and peak are read, saved and still there after a reload', async () => {
    const before = await storedLines(phone.page);
    await phone.tap('button', 'Heron, Read oxygen and pH');
    await phone.keys('4.8');
    await phone.tap('button', 'Save');
    await phone.waitFor('text', 'Saved');
    await phone.tap('button', 'Done');
    await phone.setTime('2026-11-25T16:40:00Z');
    await phone.tap('button', 'Saltbush, Read Secchi');
    await phone.keys('52');
    await phone.tap('button', 'Next: Comes back');
    await phone.keys('48');
    await phone.tap('button', 'Save');
    await phone.waitFor('text', 'Saved');
    await phone.reload();
    await phone.tap('tab', 'Ponds');
    await phone.tap('button', 'Saltbush');
    assert.match((await phone.node('pond/reading/secchi')).value, /^50 cm/);
    assert.deepEqual(
      added(before, await storedLines(phone.page)).map(({kind, pond}) => [kind, pond]),
      [
        ['water_reading', 'p3'],
        ['secchi_reading', 'p6'],
      ],
    );
  });
});

describe('a browser killed at any moment', () => {
  const kRounds = 5;
  /** Where a kill may come, after the entries of a round were said to be saved. */
  const moments = ['after "Saved"', 'while typing', 'right after Save', 'some frames after Save'];

  /** From the screen that asks for a Secchi pair. @param {Phone} phone @param {number} vanishes in cm */
  async function type(phone, vanishes) {
    for (const digit of String(vanishes)) await phone.activate(`keys/${digit}`);
    await phone.activate('entry/next_value');
    for (const digit of String(vanishes - 2)) await phone.activate(`keys/${digit}`);
  }

  test('keeps what was said to be saved, without a gap in numbers or chain', {timeout: 300_000}, async () => {
    const server = await serve({dir: distFolder()});
    /** @type {number[]} each pair's first depth, which tells it from all others */
    const said = [];
    const story = [];
    let killable;
    let vanishes = 60;
    try {
      for (let round = 0; round <= kRounds; ++round) {
        killable = await KillableBrowser.start({profile: killable?.profile});
        const minute = String(10 + round).padStart(2, '0');
        const time = `2026-11-25T17:${minute}:00Z`;
        const phone = await Phone.start({...demo, server, context: killable.context, time});

        const lines = await storedLines(phone.page);
        const there = lines.map((line) => JSON.parse(line).values.secchi_vanish_cm);
        assert.deepEqual(
          said.filter((depth) => !there.includes(depth)),
          [],
          story.join('; '),
        );
        assert.deepEqual(chainFaults(lines), [], story.join('; '));
        assert.deepEqual(phone.errors, []);
        if (round === kRounds) break;

        for (const step of ['tab/tab/ponds', 'pond/p7', 'pond/enter', 'act/secchi_reading']) await phone.activate(step);
        const entries = 1 + Math.floor(Math.random() * 3);
        for (let entry = 0; entry < entries; ++entry) {
          await type(phone, ++vanishes);
          await phone.activate('save');
          await phone.waitFor('text', 'Saved');
          said.push(vanishes);
          await phone.activate('entry/again');
        }
        const moment = moments[Math.floor(Math.random() * moments.length)];
        story.push(`${entries} saved, killed ${moment}`);
        if (moment !== 'after "Saved"') await type(phone, ++vanishes);
        if (moment.endsWith('after Save')) {
          await phone.page.locator('#mirror [data-node="save"]').dispatchEvent('click');
        }
        if (moment.startsWith('some')) {
          await phone.page.evaluate(
            (frames) =>
              new Promise((done) => {
                const next = () => (--frames > 0 ? requestAnimationFrame(next) : done(undefined));
                next();
              }),
            1 + Math.floor(Math.random() * 6),
          );
        }
        await killable.kill();
      }
    } finally {
      await killable?.end();
      await server.close();
    }
    assert.ok(said.length >= kRounds);
  });
});
