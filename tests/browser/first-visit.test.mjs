/**
 * The very first visit: the first screen stands on the first part of the program, and what it leads to comes after it.
 */
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {mkdtemp, readFile, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {dirname, join} from 'node:path';
import {after, before, test} from 'node:test';
import {fileURLToPath} from 'node:url';
import {serve} from '../../web/serve.mjs';
import {firstVisits, welcome} from './first-visits.mjs';
import {distFolder, endAll, launch, Phone, phoneSettings} from './harness.mjs';

const root = join(dirname(fileURLToPath(import.meta.url)), '..', '..');
const wasm = process.env.TAWNY_WASM ?? join(distFolder(), '..', 'wasm');
const kRest = /tawny-rest-[0-9a-f]{8}\.wasm$/;
let server;
let browser;
before(async () => {
  server = await serve({dir: distFolder()});
  browser = await launch();
});
after(() => endAll(() => browser?.close(), () => server?.close()));

/**
 * A page whose requests for the second part wait.
 * @param {object} settings of its context
 * @returns {Promise<{page: import('playwright-core').Page, starts: number[], asked: Promise<void>, letCome: () => void}>}
 */
async function slowVisit(settings) {
  const context = await browser.newContext(settings);
  let letCome = () => {};
  let ask = () => {};
  const come = new Promise((resolve) => (letCome = resolve));
  const asked = new Promise((resolve) => (ask = resolve));
  await context.route(kRest, async (route) => {
    ask();
    await come;
    await route.continue();
  });
  const page = await context.newPage();
  const starts = [];
  page.on('framenavigated', (frame) => frame === page.mainFrame() && starts.push(Date.now()));
  await page.goto(server.url);
  return {page, starts, asked, letCome};
}

const named = (page, role, name) => page.getByRole(role, {name, exact: true});
const whole = (page) => page.locator('#coming').waitFor({state: 'detached'});

for (const [name, settings] of Object.entries(firstVisits)) {
  test(`the first part is enough for the first screen ${name}; when it fails, run first-screen.mjs`, async () => {
    const {page, starts, asked, letCome} = await slowVisit(settings);
    await asked;
    await welcome(page);
    assert.equal(await page.locator('#splash').count(), 0);
    assert.equal(starts.length, 1, 'it had to start anew');
    letCome();
    await whole(page);
    assert.equal(starts.length, 1);
    await page.context().close();
  });
}

test('what is touched before the rest is there is done when it comes', async () => {
  const {page, asked, letCome} = await slowVisit({...phoneSettings, locale: 'en-GB'});
  await asked;
  await named(page, 'radio', 'Español').waitFor();
  const {x, y, width, height} = await named(page, 'radio', 'Español').boundingBox();
  await page.touchscreen.tap(x + width / 2, y + height / 2);
  // On a slow way it says that something is on its way.
  await page.locator('#coming').filter({hasText: /needs no network/}).waitFor();
  assert.equal(await named(page, 'radio', 'English').getAttribute('aria-checked'), 'true');
  letCome();
  await named(page, 'button', 'Configurar mi finca').waitFor();
  assert.equal(await named(page, 'radio', 'Español').getAttribute('aria-checked'), 'true');
  await page.context().close();
});

test('a rest that does not come is said, with a way to begin again', async () => {
  const context = await browser.newContext({...phoneSettings, locale: 'en-GB'});
  let cut = true;
  await context.route(kRest, (route) => (cut ? route.abort() : route.continue()));
  const page = await context.newPage();
  await page.goto(server.url);
  await page.locator('#fallback [role=alert]').waitFor();
  cut = false;
  await page.locator('#fallback button').first().tap();
  await whole(page);
  await named(page, 'button', 'Set up my farm').waitFor();
  await context.close();
});

test('whoever was here before gets both parts at once', async () => {
  const phone = await Phone.start({server, context: await browser.newContext(phoneSettings)});
  assert.equal(await phone.offlineReady(), true);
  const hasPreload = () => phone.page.locator('link[rel=preload][href*="-rest-"]').count();
  assert.equal(await hasPreload(), 0);
  await phone.reload();
  assert.equal(await hasPreload(), 1);
  await phone.page.context().close();
});

test('a first part that lacks what the first screen needs is made good by another start', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'tawny-first-visit-'));
  const [list, first, rest] = ['list.txt', 'first.wasm', 'rest.wasm'].map((name) => join(folder, name));
  const lacking = /tawny2ui|tawny9fold_farm/;
  const names = (await readFile(join(root, 'wasm-shell', 'first-screen.txt'), 'utf8')).split('\n');
  await writeFile(list, names.filter((name) => !lacking.test(name)).join('\n'));
  execFileSync(join(root, 'wasm-shell', 'tools', 'split.py'), [join(wasm, 'tawny.wasm'), list, first, rest]);
  const context = await browser.newContext({...phoneSettings, locale: 'en-GB'});
  const give = async (/** @type {RegExp} */ pattern, /** @type {string} */ path) => {
    const body = await readFile(path);
    await context.route(pattern, (route) => route.fulfill({body, contentType: 'application/wasm'}));
  };
  await give(/tawny-first-[0-9a-f]{8}\.wasm$/, first);
  await give(kRest, rest);
  const page = await context.newPage();
  let starts = 0;
  page.on('framenavigated', (frame) => frame === page.mainFrame() && ++starts);
  await page.goto(server.url);
  await named(page, 'button', 'Set up my farm').waitFor();
  await whole(page);
  assert.equal(starts, 2);
  await context.close();
  await rm(folder, {recursive: true});
});
