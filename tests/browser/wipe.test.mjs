/**
 * Wiping a device in a real browser: what the browser keeps of the farm afterwards (nothing), that a second tab is told,
 * and that a wipe that was cut short goes on.
 */
import assert from 'node:assert/strict';
import {readFile, readdir} from 'node:fs/promises';
import {join} from 'node:path';
import {afterEach, describe, test} from 'node:test';
import {serve} from '../../web/serve.mjs';
import {KillableBrowser, Phone, distFolder} from './harness.mjs';
import {startOwnFarm} from './own-farm.mjs';
import {storedLines} from './stored.mjs';

const morning = {time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5'};

/** Everything that scripts of this origin can find, as one text. @param {import('playwright-core').Page} page */
const keptByBrowser = (page) =>
  page.evaluate(async () => {
    const answer = (/** @type {IDBRequest} */ request) =>
      new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
      });
    const all = [JSON.stringify({...localStorage}), JSON.stringify({...sessionStorage})];
    for (const {name} of await indexedDB.databases()) {
      const database = await answer(indexedDB.open(name));
      for (const store of database.objectStoreNames) {
        all.push(`${name}/${store}`, JSON.stringify(await answer(database.transaction(store).objectStore(store).getAll())));
      }
      database.close();
    }
    for (const name of await caches.keys()) {
      // The app's own files come again with the next visit; they hold the demo farm's names, as every copy does.
      if (name.startsWith('workbox-precache')) continue;
      const cache = await caches.open(name);
      for (const request of await cache.keys()) all.push(request.url, await (await cache.match(request)).text());
    }
    return all.join('\n');
  });

/** Up to the last press. @param {Phone} phone @param {string} farm */
async function goToWipe(phone, farm) {
  for (const step of ['tab/tab/office', 'office/privacy', 'privacy/wipe']) await phone.activate(step);
  await phone.node('wipe/only_here');
  const taken = phone.page.waitForEvent('download').catch(() => undefined);
  await phone.page.evaluate(() => {
    navigator.canShare = () => false;
  });
  await phone.activate('wipe/out');
  await taken;
  await phone.node('wipe/elsewhere');
  await phone.type('The farm', farm);
}

const isNew = async (/** @type {Phone} */ phone) => {
  await phone.started();
  assert.deepEqual(await storedLines(phone.page, 'own'), []);
};

describe('wiping', () => {
  let phone, server, killable;
  afterEach(async () => {
    await phone?.end();
    await killable?.end();
    await server?.close();
    phone = server = killable = undefined;
  });

  test('leaves nothing of the farm that a script can find, and tells a second tab', async () => {
    const own = await startOwnFarm(morning);
    phone = own.phone;
    const second = await Phone.start({...morning, server: phone.server, context: phone.context, query: '?own'});
    const before = await keptByBrowser(phone.page);
    assert.ok(before.includes(own.farm) && before.includes(own.ponds[0]));
    await goToWipe(phone, own.farm);
    const loaded = phone.page.waitForEvent('load');
    await phone.activate('wipe/now').catch(() => {});
    await loaded;
    await isNew(phone);
    const kept = await keptByBrowser(phone.page);
    for (const name of [own.farm, ...own.ponds]) assert.ok(!kept.includes(name), `${name} is still here`);
    assert.ok(!kept.includes('tawny.setting.'), 'settings');
    await second.page.locator('#fallback').getByText('wiped in another tab').waitFor();
    await second.page.close();
  });

  test('goes on at the next start when a kill cut it short', async () => {
    server = await serve({dir: distFolder()});
    killable = await KillableBrowser.start();
    const own = await startOwnFarm({...morning, server, context: killable.context});
    // As far as a wipe comes that is killed right after its mark: everything is still there.
    await own.phone.page.evaluate(async () => {
      await new Promise((resolve) => {
        const opening = indexedDB.open('tawny-wiping', 1);
        opening.onsuccess = () => {
          opening.result.close();
          resolve(undefined);
        };
      });
    });
    assert.notDeepEqual(await storedLines(own.phone.page, 'own'), []);
    const profile = await killable.kill();
    killable = await KillableBrowser.start({profile});
    const page = await killable.context.newPage();
    await page.goto(server.url);
    await page.locator('#mirror [data-node]').first().waitFor({state: 'attached'});
    assert.deepEqual(await storedLines(page, 'own'), []);
    const kept = await keptByBrowser(page);
    for (const name of [own.farm, ...own.ponds]) assert.ok(!kept.includes(name), `${name} is still here`);
    assert.ok(!(await page.evaluate(() => indexedDB.databases())).some(({name}) => name === 'tawny-wiping'));
  });
});
