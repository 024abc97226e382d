/**
 * Makes the picture of the README from the running app: node tests/browser/screenshots.mjs [FOLDER]
 *
 * The demo farm by a clock that stands still; four phones side by side in FOLDER/areas.png (assets/pictures when no
 * folder is named). TAWNY_DIST names the built page.
 */
import {mkdir, writeFile} from 'node:fs/promises';
import {dirname, join} from 'node:path';
import {fileURLToPath} from 'node:url';
import {Phone} from './harness.mjs';

const folder =
  process.argv[2] ?? join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'assets', 'pictures');
const zone = 'America/Guayaquil';
const pictures = [];

async function atTheFarm(time, act) {
  const phone = await Phone.start({query: '?demo', time, timezone: zone});
  const take = async () => pictures.push((await phone.page.screenshot()).toString('base64'));
  await act(phone, take);
  return phone;
}

let phone = await atTheFarm('2026-11-25T15:40:00Z', async (one, take) => {
  await take();
  await one.tap('tab', 'Ponds');
  await one.tap('button', 'Long Pond');
  await take();
});
await phone.end();
phone = await atTheFarm('2026-11-25T11:40:00Z', async (one, take) => {
  await one.tap('tab', 'Dose bin');
  await one.tap('button', 'Dose for Heron');
  await one.tap('radio', 'Bright');
  await one.tap('checkbox', 'We have read');
  await one.tap('button', 'Start the walk');
  await one.waitFor('button', 'Bin 1 of');
  await take();
  await one.tap('button', 'Bin 1 of');
  await one.waitFor('image', 'Bin 1 of');
  await take();
});

// Chromium itself lays them side by side.
const sheet = await phone.context.browser().newPage({viewport: {width: 1080, height: 560}, deviceScaleFactor: 1});
await sheet.setContent(
  `<body style="margin:0;background:#d9cfbd;display:flex;gap:16px;padding:16px;box-sizing:border-box">${pictures
    .map((data) => `<img style="height:528px;border-radius:16px" src="data:image/png;base64,${data}">`)
    .join('')}</body>`,
);
await sheet.evaluate(() => Promise.all([...document.images].map((image) => image.decode())));
await mkdir(folder, {recursive: true});
await writeFile(join(folder, 'areas.png'), await sheet.screenshot());
await sheet.close();
await phone.end();
