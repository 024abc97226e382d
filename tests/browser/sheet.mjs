/**
 * A sheet of every screen, by day and by night, to be looked at:
 *
 *   TAWNY_DIST=build/web node tests/browser/sheet.mjs FOLDER [LANGUAGE] [TEXT_SIZE]
 *
 * Writes day-*.png and night-*.png, one for each screen, and sheet-day.png and sheet-night.png with all of them.
 */
import {mkdir, readFile, writeFile} from 'node:fs/promises';
import {join} from 'node:path';
import {Phone} from './harness.mjs';
import {visitAll} from './ways.mjs';

const [folder, language = 'en', textSize = '100'] = process.argv.slice(2);
if (!folder) {
  console.error('Usage: node tests/browser/sheet.mjs FOLDER [LANGUAGE] [TEXT_SIZE]');
  process.exit(2);
}
await mkdir(folder, {recursive: true});

for (const theme of ['day', 'night']) {
  const phone = await Phone.start({
    query: '?demo',
    time: '2026-11-25T11:20:00Z',
    timezone: 'Etc/GMT+5',
    settings: {deviceScaleFactor: 1},
  });
  await phone.page.evaluate((settings) => {
    for (const [key, value] of Object.entries(settings)) localStorage.setItem(`tawny.setting.${key}`, value);
  }, {theme, language, text_size: textSize});
  await phone.reload();
  const pictures = [];
  await visitAll(phone, async (where) => {
    await phone.settle();
    const file = join(folder, `${theme}-${where.replaceAll(/[^a-z]+/gi, '-')}.png`);
    await phone.screenshot(file);
    pictures.push(file);
  });
  const images = await Promise.all(
    pictures.map(async (file) => `<img width="234" src="data:image/png;base64,${(await readFile(file)).toString('base64')}">`),
  );
  const sheet = await phone.context.newPage();
  await sheet.setViewportSize({width: 7 * 244, height: 800});
  await sheet.setContent(`<body style="margin:5px;display:flex;flex-wrap:wrap;gap:10px;background:#888">${images.join('')}`);
  await writeFile(join(folder, `sheet-${theme}.png`), await sheet.screenshot({fullPage: true}));
  await phone.end();
}
