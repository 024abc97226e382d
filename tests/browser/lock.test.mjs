/**
 * The PIN of a device in a real browser: what is kept of it, what is on the page without it, and that the page's own
 * part of it (hash, cover, text field) does its work.
 */
import assert from 'node:assert/strict';
import {pbkdf2Sync} from 'node:crypto';
import {after, before, describe, test} from 'node:test';
import {pbkdf2} from '../../web/src/lock.js';
import {startOwnFarm} from './own-farm.mjs';

// RFC 7914, section 11.
const kVectors = [
  {
    secret: 'passwd',
    salt: 'salt',
    iterations: 1,
    hash:
      '55ac046e56e3089fec1691c22544b605f94185216dde0465e68b9d57c20dacbc' +
      '49ca9cccf179b645991664b39d77ef317c71b845b1e30bd509112041d3a19783',
  },
  {
    secret: 'Password',
    salt: 'NaCl',
    iterations: 80000,
    hash:
      '4ddcd8f60b98be21830cee5ef22701f9641a4418d04c0414aeff08876b34ab56' +
      'a1d425a1225833549adb841b51c9b3176a272bdebba1d078478f62b397f33c8d',
  },
];

test('PBKDF2-HMAC-SHA-256 gives what RFC 7914 publishes', async () => {
  for (const {secret, salt, iterations, hash} of kVectors) {
    assert.equal(await pbkdf2(secret, new TextEncoder().encode(salt), iterations, 64), hash);
  }
});

describe('a device with a PIN', () => {
  let phone, farm, ponds;

  before(async () => {
    ({phone, farm, ponds} = await startOwnFarm({time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5'}));
  });
  after(() => phone.end());

  const settings = () =>
    phone.page.evaluate(() =>
      Object.fromEntries(Object.entries(localStorage).filter(([key]) => key.startsWith('tawny.setting.lock.'))),
    );
  /** All that a person, a screen reader or the title bar can read. */
  const readable = () => phone.page.evaluate(() => document.title + document.body.innerHTML);
  const assertNothingShown = async () => {
    const html = await readable();
    for (const name of [farm, ...ponds]) assert.ok(!html.includes(name), `${name} is on the page`);
  };
  const away = async (/** @type {string} */ until) => {
    await phone.page.evaluate(() => {
      Object.defineProperty(document, 'visibilityState', {value: 'hidden', configurable: true});
      document.dispatchEvent(new Event('visibilitychange'));
    });
    assert.equal(await phone.page.evaluate(() => getComputedStyle(document.getElementById('canvas')).visibility), 'hidden');
    await phone.page.evaluate((time) => {
      globalThis.setTestClock(time);
      delete document.visibilityState;
      document.dispatchEvent(new Event('visibilitychange'));
    }, Date.parse(until));
    await phone.settle();
  };

  test('is set with two equal PINs; salt, iterations and hash are kept', async () => {
    await phone.tap('tab', 'Office');
    await phone.tapNode('office/lock');
    await phone.tapNode('lock/choose');
    for (let i = 0; i < 2; ++i) {
      await phone.keys('0471');
      await phone.tapNode('lock/open');
    }
    await phone.node('lock/done');
    const kept = await settings();
    const salt = kept['tawny.setting.lock.salt'];
    assert.match(salt, /^[0-9a-f]{32}$/);
    assert.equal(kept['tawny.setting.lock.iterations'], '600000');
    const hash = pbkdf2Sync('0471', Buffer.from(salt, 'hex'), 600000, 32, 'sha256').toString('hex');
    assert.equal(kept['tawny.setting.lock.hash'], hash);
    assert.ok(!Object.values(kept).includes('0471'));
  });

  test('shows nothing of the farm at a start, and opens with the PIN by the keyboard', async () => {
    await phone.reload();
    await phone.node('lock/title');
    await assertNothingShown();
    for (const key of ['0', '4', '7', '1', 'Enter']) {
      await phone.page.keyboard.press(key);
      await phone.settle();
    }
    await phone.waitFor('tab', 'Office');
    assert.ok((await readable()).includes(farm));
  });

  test('covers a text that is being typed, and has it afterwards', async () => {
    await phone.tap('tab', 'Ponds');
    await phone.tapNode('pond/p1');
    await phone.activate('pond/enter');
    await phone.activate('act/note');
    const field = (await phone.nodes()).find(({role}) => role === 'textfield');
    await phone.touch(await phone.scrollTo(() => phone.node(field.id)));
    await phone.page.locator('#entry-bar-input').fill('Heron on the bank');
    await away('2026-11-25T11:30:00Z');
    await phone.node('lock/title');
    await phone.page.locator('#entry-bar').waitFor({state: 'hidden'});
    await assertNothingShown();
    assert.ok(!(await readable()).includes('Heron'));
    await phone.keys('0471');
    await phone.tapNode('lock/open');
    assert.equal((await phone.node(field.id)).value, 'Heron on the bank');
  });

  test('lets a wrong PIN wait, also after a reload', async () => {
    await phone.reload();
    for (let i = 0; i < 3; ++i) {
      await phone.keys('1111');
      await phone.tapNode('lock/open');
      await phone.node(i < 2 ? 'lock/wrong' : 'lock/wait');
    }
    await phone.reload();
    assert.match((await phone.node('lock/wait')).name, /^Too many wrong tries/);
    await phone.keys('0471');
    assert.equal((await phone.node('lock/open')).state, 'disabled');
    await phone.setTime('2026-11-25T11:40:00Z');
    await phone.tapNode('lock/open');
    await phone.waitFor('tab', 'Office');
    assert.deepEqual(phone.errors, []);
  });
});
