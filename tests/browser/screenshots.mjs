/**
 * Makes pictures from the running app: node tests/browser/screenshots.mjs [FOLDER]
 *
 * Each screen of the demo farm goes to FOLDER as a picture of its own, four phones side by side as areas.png, two screens
 * of a laptop as office.png, and the forecasts as ahead.png. With no folder named, only these three are made, in assets/pictures, where the README
 * has them. TAWNY_DIST names the built page.
 */
import {mkdir, writeFile} from 'node:fs/promises';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {Phone} from './harness.mjs';

const here = dirname(fileURLToPath(import.meta.url));
const asked = process.argv[2];
const folder = asked ?? join(here, '..', '..', 'assets', 'pictures');
const sideBySide = ['rounds', 'pond', 'bin', 'lanes'];
/** @type {Record<string, Buffer>} */
const pictures = {};

/** The farm in mid-morning, when the disc is read. @param {Phone} phone */
async function atThePeak(phone) {
  const take = async (/** @type {string} */ name) => {
    pictures[name] = await phone.page.screenshot();
  };
  await take('rounds');
  await phone.tap('button', 'Kingfisher, Read Secchi');
  await phone.keys('68');
  await take('entry');
  await phone.tap('button', 'Back');
  await phone.tap('tab', 'Ponds');
  await take('ponds');
  await phone.tap('button', 'Long Pond');
  await take('pond');
  await phone.tap('button', 'Back');
  await phone.tap('tab', 'Logbook');
  await take('logbook');
  await phone.tap('tab', 'Office');
  await take('office');
}

/** The farm shortly after sunrise, when the first dose goes in. @param {Phone} phone */
async function atTheBin(phone) {
  const take = async (/** @type {string} */ name) => {
    pictures[name] = await phone.page.screenshot();
  };
  await phone.tap('tab', 'Dose bin');
  await phone.tap('button', 'Dose for Heron');
  await take('plan');
  await phone.tapNode('plan/sky/bright');
  await phone.tapNode('plan/confirm');
  await phone.tap('button', 'Start the walk');
  await phone.waitFor('button', 'Bin 1 of 2 mixed');
  await take('bin');
  await phone.tap('button', 'Bin 1 of 2 mixed');
  await phone.waitFor('button', 'Bin 1 of 2 spread');
  await take('lanes');
}

const onALaptop = ['board', 'cycles'];
const laptop = {width: 1366, height: 768};

/** The manager's evening. @param {Phone} phone */
async function atTheOffice(phone) {
  const take = async (/** @type {string} */ name) => {
    pictures[name] = await phone.page.screenshot();
  };
  await phone.activate('tab/tab/office');
  await take('board');
  await phone.activate('office/plan');
  await take('deliveries');
  await phone.activate('tab/tab/ponds');
  await phone.activate('pond/p6');
  await phone.activate('pond/compare');
  await take('cycles');
}

const ahead = ['without', 'with', 'dawn'];

/** The farm after sunset, by its own sun. @param {Phone} phone */
async function afterSunset(phone) {
  const take = async (/** @type {string} */ name) => {
    pictures[name] = await phone.page.screenshot();
  };
  await take('dawn');
  await phone.tap('tab', 'Ponds');
  await phone.tap('button', 'Long Pond');
  await phone.node('outlook/chart');
  await phone.scrollTo(() => phone.node('outlook/days'));
  await take('without');
  await phone.activate('outlook/dose/2');
  await take('with');
}

/** Chromium itself lays them side by side. @param {any} browser @param {string} name @param {string[]} names @param {number} height */
async function compose(browser, name, names, height) {
  const sheet = await browser.newPage({viewport: {width: 1040, height: height + 24}, deviceScaleFactor: 1});
  const images = names.map((each) => `<img src="data:image/png;base64,${pictures[each].toString('base64')}">`);
  await sheet.setContent(`<style>
      body { margin: 0; padding: 12px; background: #d9cfbd; display: flex; justify-content: space-between }
      img { height: ${height}px; border-radius: 12px }
    </style>${images.join('')}`);
  await sheet.evaluate(() => Promise.all([...document.images].map((image) => image.decode())));
  pictures[name] = await sheet.screenshot();
  await sheet.close();
}

for (const [time, visit] of /** @type {const} */ ([
  ['2026-11-25T15:40:00Z', atThePeak],
  ['2026-11-25T11:40:00Z', atTheBin],
  ['2026-11-25T23:10:00Z', atTheOffice],
  ['2026-11-25T23:50:00Z', afterSunset],
])) {
  const wide = {viewport: laptop, screen: laptop, isMobile: false, deviceScaleFactor: 1};
  const settings = visit === atTheOffice ? wide : {};
  const phone = await Phone.start({query: '?demo', time, timezone: 'Etc/GMT+5', settings});
  await visit(phone);
  if (visit === atTheBin) await compose(phone.browser, 'areas', sideBySide, 528);
  if (visit === atTheOffice) await compose(phone.browser, 'office', onALaptop, 284);
  if (visit === afterSunset) await compose(phone.browser, 'ahead', ahead, 720);
  await phone.end();
}

await mkdir(folder, {recursive: true});
for (const [name, png] of Object.entries(pictures)) {
  if (asked || ['areas', 'office', 'ahead'].includes(name)) await writeFile(join(folder, `${name}.png`), png);
}
