/**
 * The office's code on the manager's screen, read by another program's eye (zbarimg), and opened on a phone as its
 * camera would.
 */
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {mkdtemp, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {test} from 'node:test';
import {Phone} from './harness.mjs';
import {storedLines} from './stored.mjs';
import {becomeOffice} from './ways.mjs';

const morning = {time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5'};
const kept = (phone) => phone.page.evaluate(() => Object.keys(localStorage).filter((key) => key.includes('depot')));

async function managersPhone() {
  const demo = await Phone.start({...morning, query: '?demo', keyless: true});
  const lines = await storedLines(demo.page, 'demo');
  await demo.end();
  const office = await Phone.start({...morning, query: '?own'});
  await becomeOffice(office, lines);
  return office;
}

for (const theme of ['day', 'night']) {
  test(`a camera reads the code by ${theme}, and the phone shows what it brings before it keeps it`, async () => {
    const office = await managersPhone();
    const folder = await mkdtemp(join(tmpdir(), 'tawny-code-'));
    try {
      await office.page.evaluate((wish) => localStorage.setItem('tawny.setting.theme', wish), theme);
      await office.reload();
      await office.tap('tab', 'Office');
      await office.activate('sync/code');
      await office.type('Account', 'phone-7');
      await office.type('Password', 'sal y água 7');
      await office.node('code/picture');
      await office.settle();
      const picture = join(folder, 'screen.png');
      await office.page.screenshot({path: picture});
      const link = execFileSync('zbarimg', ['--quiet', '--raw', picture], {encoding: 'utf8'}).trim();
      assert.ok(!link.includes('of-the-office') && !link.includes('phone-7'), 'nothing of it is legible by eye');
      assert.equal(link.split('#')[0], office.page.url().split(/[?#]/)[0]);

      const server = {url: link.split('#')[0], close: async () => {}};
      const phone = await Phone.start({...morning, server, query: `#${link.split('#')[1]}`});
      await phone.node('depot/brought');
      assert.equal(new URL(phone.page.url()).hash, '', 'the address does not keep it');
      assert.deepEqual(await kept(phone), []);
      assert.equal((await phone.node('depot/user')).value, 'phone-7');
      await phone.activate('save');
      const settings = await phone.page.evaluate(() => ['user', 'password', 'address', 'writer'].map((key) =>
        localStorage.getItem(`tawny.setting.depot.${key}`)));
      assert.deepEqual(settings, ['phone-7', 'sal y água 7', `${new URL(link).origin}/depot/`, 'phone-7']);
      await phone.end();
    } finally {
      await office.end();
      await rm(folder, {recursive: true, force: true});
    }
  });
}
