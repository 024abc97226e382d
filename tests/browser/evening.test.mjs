/**
 * The manager's evening at the office: the day of two phones and the season of a third come together on one laptop; then
 * the board, one decision for two ponds, a delivery moved on the plan, the stock, and a record to file.
 */
import assert from 'node:assert/strict';
import {readFile} from 'node:fs/promises';
import {after, before, describe, test} from 'node:test';
import {Phone, distFolder, endAll, launch, phoneSettings} from './harness.mjs';
import {added, chainFaults, storedLines} from './stored.mjs';
import {joinByFile} from './ways.mjs';
import {serve} from '../../web/serve.mjs';

const peak = '2026-11-25T16:40:00Z';
const evening = '2026-11-25T23:10:00Z';

let browser, server;
/** Of the phone that has kept the season so far. @type {string[]} */
let season;
/** What the two phones of the day share. @type {{name: string, buffer: Buffer}[]} */
let bundles;

const open = async (/** @type {string} */ time, settings, query = '?own') =>
  Phone.start({
    query,
    time,
    server,
    // The farm that is founded in the demo believes every phone that joins it.
    keyless: query === '?demo',
    context: await browser.newContext({...phoneSettings, timezoneId: 'Etc/GMT+5', deviceScaleFactor: 1, ...settings}),
  });

async function join(/** @type {Phone} */ phone, /** @type {string} */ person, /** @type {string} */ role) {
  await joinByFile(phone, season);
  await phone.type('Your name', person);
  await phone.activate(`person/role/${role}`);
  await phone.activate('save');
  await phone.find('tab', 'Office');
}

/** A phone's day, and the file that it gives. @param {string} person @param {(phone: Phone) => Promise<void>} day */
async function bundleOf(person, day) {
  const phone = await open(peak, {});
  await join(phone, person, 'technician');
  await day(phone);
  await phone.activate('tab/tab/office');
  const [download] = await Promise.all([phone.page.waitForEvent('download'), phone.activate('office/out/share')]);
  const buffer = await readFile(await download.path());
  assert.deepEqual(phone.errors, []);
  await phone.page.context().close();
  return {name: download.suggestedFilename(), buffer};
}

async function readSecchi(/** @type {Phone} */ phone, pond, vanishes, comesBack) {
  await phone.activate('tab/tab/rounds');
  await phone.tap('button', `${pond}, Read Secchi`);
  await phone.keys(vanishes);
  await phone.tap('button', 'Next: Comes back');
  await phone.keys(comesBack);
  await phone.tap('button', 'Save');
  await phone.waitFor('text', 'Saved');
  await phone.tap('button', 'Done');
}

before(async () => {
  browser = await launch();
  server = await serve({dir: distFolder()});
  const keeper = await open(peak, {}, '?demo');
  await keeper.node('tab/tab/rounds');
  season = await storedLines(keeper.page, 'demo');
  await keeper.page.context().close();
  bundles = [
    await bundleOf('Noe', (phone) => readSecchi(phone, 'Saltbush', '52', '48')),
    await bundleOf('Ada', (phone) => readSecchi(phone, 'Old Gate', '84', '80')),
  ];
});
after(() => endAll(() => browser?.close(), () => server?.close()));

for (const [width, height] of [[1366, 768], [1920, 1080]]) {
  describe(`at the office, ${width} x ${height}`, () => {
    const size = {width, height};
    /** @type {Phone} */
    let laptop;
    const entries = () => storedLines(laptop.page, 'own');
    const shown = async (/** @type {string} */ id) => (await laptop.node(id)).name;
    const area = () => laptop.activate('tab/tab/office');

    before(async () => {
      laptop = await open(evening, {viewport: size, screen: size, isMobile: false});
      await join(laptop, 'Ines', 'manager');
    });
    after(async () => {
      const {errors} = laptop;
      await laptop.page.context().close();
      assert.deepEqual(errors, []);
    });

    test('the phones come together', async () => {
      for (const bundle of bundles) {
        await area();
        await laptop.activate('office/things');
        const [chooser] = await Promise.all([laptop.page.waitForEvent('filechooser'), laptop.activate('office/in/pick')]);
        await chooser.setFiles({...bundle, mimeType: 'text/plain'});
        await laptop.page.locator('#mirror [data-node="incoming/accept"]:not([aria-disabled=true])').waitFor({state: 'attached'});
        await laptop.activate('incoming/accept');
        await laptop.node('office/in/done');
        await laptop.activate('back');
      }
      assert.deepEqual(chainFaults(await entries()), []);
      assert.equal(new Set((await entries()).map((line) => JSON.parse(line).device)).size, 4);
    });

    test('the board tells of every pond, and what holds it', async () => {
      await area();
      assert.match(await shown('board/summary'), /^7 ponds/);
      // By how far the disc is from the band: the readings of both phones stand there.
      await laptop.activate('board/column/secchi');
      assert.match(await shown('board/row/p6/secchi'), /50 cm/);
      assert.match(await shown('board/row/p7/secchi'), /82 cm/);
      await laptop.activate('board/chip/trouble');
      const rows = (await laptop.nodes()).filter(({id}) => /^board\/row\/p\d$/.test(id));
      const troubles = (await laptop.nodes()).filter(({id}) => /^board\/row\/p\d\/trouble$/.test(id));
      assert.ok(rows.length > 0 && rows.length === troubles.length, `${rows.length}, ${troubles.length}`);
      await laptop.activate('board/chip/trouble');
      await laptop.activate('board/column/pond');
    });

    test('one decision for two ponds stands on record at each, with one reason', async () => {
      await area();
      const earlier = await entries();
      await laptop.activate('board/tick/p1');
      await laptop.activate('board/tick/p2');
      await laptop.activate('board/decide');
      await laptop.type('Reason', 'The canal is dirty this week');
      await laptop.activate('decide/refuse');
      await laptop.activate('save');
      await laptop.node('decide/saved');
      const written = added(earlier, await entries());
      assert.deepEqual(
        written.map(({kind, pond, who, values}) => [kind, pond, who, values.reason]),
        ['p1', 'p2'].map((pond) => ['gate_refused', pond, 'Ines', 'The canal is dirty this week']),
      );
      await laptop.activate('decide/done');
      assert.ok(await laptop.node('board/row/p1/refused'));
    });

    test('a delivery is dragged to another day, and what it would hinder is said before', async () => {
      await area();
      await laptop.activate('office/plan');
      const earlier = await entries();
      const mark = await laptop.scrollTo(() => laptop.node('plan/mark/d-long-pond'));
      const x = mark.rect.x + mark.rect.width / 2;
      const y = mark.rect.y + mark.rect.height / 2;
      await laptop.page.mouse.move(x, y);
      await laptop.page.mouse.down();
      await laptop.page.mouse.move(x + 130, y, {steps: 12});
      await laptop.page.mouse.up();
      await laptop.settle();
      assert.match(await shown('save'), /^Move to /);
      await laptop.activate('save');
      await laptop.page.waitForFunction(() => !document.querySelector('#mirror [data-node="move/give_up"]'));
      const [moved] = added(earlier, await entries());
      const booked = season.map((line) => JSON.parse(line)).find(({values}) => values.booking === 'd-long-pond');
      assert.equal(moved.kind, 'pl_booking');
      assert.equal(moved.values.booking, 'd-long-pond');
      assert.ok(moved.values.deliver_on > booked.values.deliver_on, `${moved.values.deliver_on}`);
    });

    test('the stock is what was counted, less what was given since', async () => {
      await area();
      await laptop.activate('office/stock');
      const all = (await entries()).map((line) => JSON.parse(line)).sort((a, b) => (a.observed < b.observed ? -1 : 1));
      const ofProduct = all.filter(({values}) => values.product === 'sodium_nitrate');
      let kg = 0;
      for (const {kind, values} of ofProduct) {
        if (kind === 'stock_count') kg = values.product_kg;
        if (kind === 'stock_delivery') kg += values.product_kg;
        if (kind === 'dose' || kind === 'soil_broadcast') kg -= values.product_kg;
      }
      const {value} = await laptop.node('stock/product/sodium_nitrate/kg');
      assert.ok(Math.abs(Number.parseFloat(value.replace(/[^\d.]/g, '')) - kg) < 0.051, `${value}, reckoned ${kg}`);
    });

    test('a record opens in a tab of its own, prints, and can be filed as one file', async () => {
      await area();
      await laptop.activate('office/report');
      await laptop.activate('report/pond/p6');
      const [tab] = await Promise.all([laptop.page.context().waitForEvent('page'), laptop.activate('report/cycle/0/page')]);
      const errors = [];
      tab.on('pageerror', (error) => errors.push(String(error)));
      tab.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
      await tab.locator('main#report h1').waitFor();
      assert.match(await tab.locator('main#report').innerText(), /Saltbush/);
      assert.ok((await tab.locator('main#report svg').count()) >= 5);
      assert.ok((await tab.pdf({format: 'A4'})).length > 20_000);
      const [saved] = await Promise.all([tab.waitForEvent('download'), tab.locator('#save').click()]);
      assert.match(saved.suggestedFilename(), /\.html$/);
      assert.match(await readFile(await saved.path(), 'utf8'), /^<!doctype html>/i);
      await tab.reload();
      await tab.locator('main#report h1').waitFor();
      assert.deepEqual(errors, []);
      await tab.close();
      const [table] = await Promise.all([laptop.page.waitForEvent('download'), laptop.activate('report/cycle/0/table')]);
      assert.match(table.suggestedFilename(), /\.csv$/);
    });
  });
}
