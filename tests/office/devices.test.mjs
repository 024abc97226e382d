/**
 * The whole way: the built app on phones in a real Chromium, the office on a real server, a bad network between them.
 * Whatever the network does to the first sync, the next one brings every device to the same logbook.
 */
import assert from 'node:assert/strict';
import {after, before, describe, test} from 'node:test';
import {Phone, distFolder, launch, phoneSettings} from '../browser/harness.mjs';
import {storedLines} from '../browser/stored.mjs';
import {connectDepot, joinByFile} from '../browser/ways.mjs';
import {serve} from '../../web/serve.mjs';
import {until} from './servers.mjs';
import {sites} from './sites.mjs';

let browser;
/** The demo farm's entries: a season's beginning on one device. @type {string[]} */
let lines;

before(async () => {
  browser = await launch();
  const server = await serve({dir: distFolder()});
  const phone = await openPhone(server.url, '?demo');
  await phone.node('tab/tab/rounds');
  lines = await storedLines(phone.page, 'demo');
  await phone.page.context().close();
  await server.close();
});
after(() => browser?.close());

/** A phone of its own. @param {string} url @param {string} [query] */
async function openPhone(url, query = '?own') {
  const context = await browser.newContext({...phoneSettings, deviceScaleFactor: 1, ignoreHTTPSErrors: true});
  // A farm without keys, so that nothing is written but what a person enters.
  return Phone.start({query, keyless: query === '?demo', server: {url, close: async () => {}}, context});
}

/** What the network does once, while the first phone syncs. @type {Record<string, (is: any) => object | undefined>} */
const common = {
  'nothing happens': () => undefined,
  'an upload is cut off': (is) => ({when: is.put, sendOnly: 700}),
  'the answer to an upload is lost': (is) => ({when: is.put, giveOnly: 0}),
  'an upload is answered 503': (is) => ({when: is.put, answer: {status: 503}}),
};
const more = {
  'the listing is cut off': (is) => ({when: is.list, giveOnly: 40}),
  'the listing comes in drips': (is) => ({when: is.list, drip: {bytes: 40, everyMs: 20}}),
  'the reading back is cut off': (is) => ({when: is.get, giveOnly: 300}),
  ...Object.fromEntries([401, 403, 404, 409, 412, 500, 507].map((status) => [
    `an upload is answered ${status}`, (is) => ({when: is.put, answer: {status}})])),
  'a login page comes in place of the listing': (is) => ({
    when: is.list,
    answer: {status: 200, type: 'text/html', text: '<html>Log in</html>'},
  }),
};

for (const [name, start] of Object.entries(sites)) {
  describe(`three devices around ${name} come to the same logbook, although`, () => {
    let site;
    before(async () => {
      site = await start();
    });
    after(() => site?.end());

    for (const [what, make] of Object.entries(name === 'Apache' ? {...common, ...more} : common)) {
      test(what, async () => {
        const fault = make(site.is);
        await site.empty();
        const first = await openPhone(site.page);
        await joinByFile(first, lines);
        site.proxy.fault = fault && {...fault, times: 1};
        await connectDepot(first, site.settingsOf('ana'));
        if (fault) await until(() => site.proxy.fault.times === 0, 'the fault');
        site.proxy.fault = undefined;
        assert.deepEqual(await storedLines(first.page, 'own'), lines, 'nothing is lost on the phone');
        await first.reload();
        const held = async () => [...new Set(await site.lines())].sort();
        await until(async () => (await held()).length === lines.length, 'all at the office');
        assert.deepEqual(await held(), [...lines].sort());
        for (const user of ['ben', 'ana']) {
          const other = await openPhone(site.page);
          await connectDepot(other, site.settingsOf(user));
          const arrived = async () => (await storedLines(other.page, 'own')).length >= lines.length;
          await until(arrived, 'the entries on another phone');
          assert.deepEqual(await storedLines(other.page, 'own'), lines);
          await other.page.context().close();
        }
        await first.page.context().close();
      });
    }
  });
}
