/**
 * The app without eyes and without a finger: every screen before an accessibility checker, work done by keyboard alone,
 * and what is said aloud.
 */
import assert from 'node:assert/strict';
import {readFile} from 'node:fs/promises';
import {createRequire} from 'node:module';
import {afterEach, describe, test} from 'node:test';
import {Phone} from './harness.mjs';
import {added, storedLines} from './stored.mjs';
import {becomeOffice, visitAll} from './ways.mjs';

const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
/** Shortly after sunrise at the demo farm. */
const morning = {query: '?demo', time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}};

/** @type {Phone} */
let phone;
afterEach(async () => {
  const errors = phone.errors;
  await phone.end();
  assert.deepEqual(errors, []);
});

/** What the checker finds; with its rule on contrast only where the page itself shows text. */
const faults = (contrast = false) =>
  phone.page.evaluate(async (enabled) => {
    const {violations} = await globalThis.axe.run({rules: {'color-contrast': {enabled}}});
    return violations.map(({id, nodes}) => `${id}: ${nodes.map(({html}) => html).slice(0, 3)}`);
  }, contrast);

describe('an accessibility checker finds nothing', () => {
  test('on the screens of the office\'s folder', async () => {
    const demo = await Phone.start({...morning, keyless: true});
    const lines = await storedLines(demo.page);
    await demo.end();
    phone = await Phone.start({...morning, query: '?own'});
    await becomeOffice(phone, lines);
    await phone.page.evaluate(axe);
    for (const way of ['sync/settings', 'sync/code']) {
      await phone.tap('tab', 'Office');
      await phone.activate(way);
      assert.deepEqual(await faults(), [], way);
      assert.ok((await phone.nodes()).some(({role}) => role === 'heading'), `${way}: a heading to jump to`);
      await phone.activate('back');
    }
    // The folder is not there, which the browser says too.
    phone.errors = phone.errors.filter((error) => !/405/.test(error));
  });

  test('on any screen of the farm', async () => {
    phone = await Phone.start(morning);
    await phone.page.evaluate(axe);
    await visitAll(phone, async (where) => {
      // The mirror's text is see-through: the contrast of the canvas is held by tests/ui.
      assert.deepEqual(await faults(), [], where);
      const headings = (await phone.nodes()).filter(({role}) => role === 'heading');
      assert.ok(headings.length > 0, `${where}: a heading to jump to`);
    });
  });

  test('on a new phone, its set-up and its entry bar', async () => {
    phone = await Phone.start({settings: {deviceScaleFactor: 1}});
    await phone.page.evaluate(axe);
    assert.deepEqual(await faults(), [], 'welcome');
    await phone.tap('button', 'Set up my farm');
    assert.deepEqual(await faults(), [], 'set-up');
    await phone.tap('textfield', 'Name of the farm');
    for (const scheme of ['light', 'dark']) {
      await phone.page.evaluate((dark) => document.documentElement.classList.toggle('night', dark), scheme === 'dark');
      const found = await phone.page.evaluate(async () => {
        const {violations} = await globalThis.axe.run('#entry-bar', {rules: {'color-contrast-enhanced': {enabled: true}}});
        return violations.map(({id, nodes}) => `${id}: ${nodes.map(({html}) => html)}`);
      });
      assert.deepEqual(found, [], `the entry bar, ${scheme}`);
    }
  });
});

/** Tabs on until the control of that id has the keyboard. @param {string} id */
async function tabTo(id) {
  const focused = () => phone.page.evaluate(() => document.activeElement?.getAttribute('data-node'));
  for (let presses = 0; presses < 250; ++presses) {
    if ((await focused()) === id) return;
    await phone.page.keyboard.press('Tab');
  }
  throw new Error(`no way by keyboard to ${id}; at last it was at ${await focused()}`);
}
async function press(/** @type {string} */ key) {
  await phone.page.keyboard.press(key);
  await phone.settle();
}
/** @param {string} id */
async function choose(id) {
  await tabTo(id);
  await press('Enter');
}

describe('by keyboard alone', () => {
  test('a reading is entered and saved, digits typed as on any keyboard, and the screen is left again', async () => {
    phone = await Phone.start(morning);
    const before = await storedLines(phone.page);
    await choose('tab/tab/ponds');
    await choose('pond/p5');
    await choose('pond/enter');
    await choose('act/level_reading');
    for (const key of ['1', '2', '3', '9', 'Backspace']) await press(key);
    await choose('save');
    await phone.waitFor('text', 'Saved');
    const said = await phone.page.locator('#said').textContent();
    assert.ok(said?.startsWith('Saved'), `said aloud: "${said}"`);
    const [entry, ...more] = added(before, await storedLines(phone.page));
    assert.equal(entry.values.level_cm, 123);
    assert.deepEqual(more, []);
    await press('Escape');
    assert.ok(await phone.present('pond/enter'), 'Escape leads back to the pond');
  });

  test('what stands under a criterion is unfolded and folded again, and the row says which', async () => {
    phone = await Phone.start(morning);
    await choose('tab/tab/ponds');
    await choose('pond/p5');
    const row = (await phone.nodes()).find(({state}) => state === 'collapsed');
    assert.ok(row, 'a row that unfolds');
    const said = () => phone.page.locator(`#mirror [data-node=${JSON.stringify(row.id)}]`).getAttribute('aria-expanded');
    assert.equal(await said(), 'false');
    await choose(row.id);
    assert.equal(await said(), 'true');
    await press('Enter');
    assert.equal(await said(), 'false');
  });

  test('the language and the light are changed, and a name is typed', async () => {
    phone = await Phone.start(morning);
    await choose('tab/tab/office');
    await choose('office/theme/night');
    assert.equal((await phone.node('office/theme/night')).state, 'checked');
    await choose('office/person');
    await choose('person/name');
    await phone.page.keyboard.type('Bo');
    await press('Enter');
    assert.equal((await phone.node('person/name')).value.includes('Bo'), true);
    const focused = await phone.page.evaluate(() => document.activeElement?.getAttribute('data-node'));
    assert.equal(focused, 'person/name', 'the keyboard is where it was');
  });
});
