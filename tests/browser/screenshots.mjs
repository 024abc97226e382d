/**
 * Makes pictures from the running app: node tests/browser/screenshots.mjs [FOLDER]
 *
 * Each screen of the demo farm goes to FOLDER as a picture of its own, and four phones side by side as areas.png. With
 * no folder named, only areas.png is made, in assets/pictures, where the README has it. TAWNY_DIST names the built page.
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

/** Chromium itself lays them side by side. @param {any} browser */
async function compose(browser) {
  const sheet = await browser.newPage({viewport: {width: 1040, height: 552}, deviceScaleFactor: 1});
  const images = sideBySide.map((name) => `<img src="data:image/png;base64,${pictures[name].toString('base64')}">`);
  await sheet.setContent(`<style>
      body { margin: 0; padding: 12px; background: #d9cfbd; display: flex; justify-content: space-between }
      img { height: 528px; border-radius: 12px }
    </style>${images.join('')}`);
  await sheet.evaluate(() => Promise.all([...document.images].map((image) => image.decode())));
  pictures.areas = await sheet.screenshot();
  await sheet.close();
}

for (const [time, visit] of /** @type {const} */ ([
  ['2026-11-25T15:40:00Z', atThePeak],
  ['2026-11-25T11:40:00Z', atTheBin],
])) {
  const phone = await Phone.start({query: '?demo', time, timezone: 'Etc/GMT+5'});
  await visit(phone);
  if (visit === atTheBin) await compose(phone.browser);
  await phone.end();
}

await mkdir(folder, {recursive: true});
for (const [name, png] of Object.entries(pictures)) {
  if (asked || name === 'areas') await writeFile(join(folder, `${name}.png`), png);
}
