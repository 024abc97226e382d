/**
 * The same morning and the same day by touch in another language: the screens speak it, and what is stored is the same to
 * the last value. Controls are found by their ids, since their names are what changes.
 */
import assert from 'node:assert/strict';
import {readFile} from 'node:fs/promises';
import {test} from 'node:test';
import {Phone} from './harness.mjs';
import {added, chainFaults, storedLines} from './stored.mjs';

const table = async (/** @type {string} */ code) =>
  JSON.parse(await readFile(new URL(`../../assets/languages/${code}.json`, import.meta.url), 'utf8'));

/** @param {Phone} phone @param {string} mgL @param {string} ph @param {string} celsius */
async function oxygen(phone, mgL, ph, celsius) {
  await phone.keys(mgL);
  await phone.tapNode('entry/next_value');
  await phone.keys(ph);
  await phone.tapNode('entry/next_value');
  await phone.keys(celsius);
  await phone.tapNode('save');
  await phone.node('entry/saved');
}

/** Presses the walk's one button, and waits until it asks for the next step or is gone. @param {Phone} phone */
async function stepOn(phone) {
  const {name} = await phone.node('save');
  await phone.tapNode('save');
  await phone.page.waitForFunction((before) => {
    const button = /** @type {HTMLElement | null} */ (document.querySelector('#mirror [data-node="save"]'));
    return button === null || (button.dataset.name !== before && button.dataset.state !== 'disabled');
  }, name);
}

/** Dawn readings at two ponds, a dose walk, the disc at the sun's peak. @param {Phone} phone */
async function work(phone) {
  const before = await storedLines(phone.page);
  await phone.tapNode('due/p3/water_reading/dawn');
  await oxygen(phone, '4.9', '7.91', '26.8');
  await phone.tapNode('entry/next_place');
  await oxygen(phone, '5.6', '7.85', '26.9');
  await phone.tapNode('entry/done');

  await phone.tapNode('due/p3/dose/dose');
  await phone.tapNode('plan/sky/bright');
  await phone.tapNode('plan/confirm');
  for (let step = 0; step < 6; ++step) await stepOn(phone);
  await phone.node('done/rounds');
  await phone.tapNode('done/rounds');

  await phone.setTime('2026-11-25T16:40:00Z');
  await phone.tapNode('due/p6/secchi_reading/peak');
  await phone.keys('52');
  await phone.tapNode('entry/next_value');
  await phone.keys('48');
  await phone.tapNode('save');
  await phone.node('entry/saved');

  const lines = await storedLines(phone.page);
  assert.deepEqual(chainFaults(lines), []);
  // A walk's name holds the moment of its start.
  return added(before, lines).map(({kind, pond, values}) => {
    const {walk: _, started: __, ended: ___, ...rest} = values;
    return {kind, pond, values: rest};
  });
}

/** @param {string} locale of the phone; the app takes its language from it */
async function run(locale) {
  const phone = await Phone.start({
    query: '?demo',
    time: '2026-11-25T11:20:00Z',
    timezone: 'Etc/GMT+5',
    settings: {deviceScaleFactor: 1, locale},
  });
  try {
    const stored = await work(phone);
    const spoken = {
      lang: await phone.page.evaluate(() => document.documentElement.lang),
      nodes: await phone.nodes(),
      said: await phone.page.locator('#said').textContent(),
    };
    assert.deepEqual(phone.errors, []);
    return {stored, spoken};
  } finally {
    await phone.end();
  }
}

test('in Spanish and in Vietnamese the same touches store the same entries, and the screens speak that language', async () => {
  const english = await run('en-GB');
  assert.equal(english.spoken.lang, 'en');
  assert.equal(english.stored.length, 2 + 6 + 1);
  for (const [locale, code] of [
    ['es-EC', 'es'],
    ['vi-VN', 'vi'],
  ]) {
    const other = await run(locale);
    assert.deepEqual(other.stored, english.stored, code);
    assert.equal(other.spoken.lang, code);
    const words = await table(code);
    const saved = other.spoken.nodes.find(({id}) => id === 'entry/saved');
    assert.ok(saved.name.startsWith(words['save.saved'].split('{')[0].trim()), saved.name);
    assert.equal(other.spoken.nodes.find(({id}) => id === 'entry/done')?.name, words['entry.done']);
    assert.ok(other.spoken.said.includes(words['save.saved'].split('{')[0].trim()), `said aloud: ${other.spoken.said}`);
  }
});

test('numbers are typed and shown with the mark of the language, and a language that is chosen stays', async () => {
  const phone = await Phone.start({
    query: '?demo',
    time: '2026-11-25T11:20:00Z',
    timezone: 'Etc/GMT+5',
    settings: {deviceScaleFactor: 1, locale: 'en-GB'},
  });
  try {
    await phone.tapNode('tab/tab/office');
    await phone.tapNode('language/pt-BR');
    const words = await table('pt-BR');
    await phone.waitFor('heading', words['office.title']);
    assert.equal(await phone.page.evaluate(() => document.documentElement.lang), 'pt-BR');
    await phone.reload();
    await phone.waitFor('heading', words['rounds.title']);
    await phone.tapNode('due/p3/water_reading/dawn');
    await phone.keys('4.9');
    assert.equal((await phone.node('entry/value')).value, '4,9 mg/L');
    assert.deepEqual(phone.errors, []);
  } finally {
    await phone.end();
  }
});

test('a letter that no text of the language has is drawn as itself once somebody types it', async () => {
  const phone = await Phone.start({settings: {deviceScaleFactor: 1, locale: 'en-GB'}});
  try {
    await phone.tap('button', 'Set up my farm');
    const drawn = async (/** @type {string} */ name) => {
      await phone.type('Name of the farm', name);
      const {rect: clip} = await phone.find('textfield', 'Name of the farm');
      return (await phone.page.screenshot({clip})).toString('base64');
    };
    // What is drawn in place of a letter that is not there.
    const unknown = await drawn('?');
    for (const letter of ['Þ', 'ÿ', 'Ẵ']) assert.notEqual(await drawn(letter), unknown, letter);
    assert.equal(await drawn('?'), unknown);
    assert.deepEqual(phone.errors, []);
  } finally {
    await phone.end();
  }
});
