// A cycle's record, made by the shell command, as Chromium prints it on A4 and on Letter: every page with its
// head and number, every row of a table whole on one page, every heading with something below it. Needs
// build/native (TAWNY_NATIVE names another folder) and pdftotext.
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {mkdtemp, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {pathToFileURL} from 'node:url';
import {endAll, launch} from './harness.mjs';

const native = process.env.TAWNY_NATIVE ?? join(import.meta.dirname, '../../build/native');
const now = '2026-03-21T18:00:00Z';
const head = 'Heron Bend · Saltbush · dry season';
const papers = {A4: /595\.?\d* x 84[12]/, Letter: /612 x 792/};

let folder, browser, log;

before(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tawny-report-'));
  browser = await launch();
  log = join(folder, 'demo.jsonl');
  await writeFile(log, execFileSync(join(native, 'tests/demo_logbook'), [now]));
});

after(() => endAll(() => browser?.close(), () => rm(folder, {recursive: true, force: true})));

/** Without blanks and marks of direction: a page breaks lines where it likes, and its head isolates each name. */
const bare = (text) => text.normalize('NFC').replace(/[\s\u2066-\u2069]+/g, '');

for (const language of ['en', 'vi']) {
  test(`the record in ${language} prints on A4 and Letter, no row cut, every page named and numbered`, async () => {
    const file = join(folder, `${language}.html`);
    execFileSync(join(native, 'tawny'), ['report', log, '--pond', 'p6', '--at', now, '--language', language, '-o', file]);
    const page = await browser.newPage();
    const asked = [];
    page.on('request', (request) => asked.push(request.url()));
    await page.goto(pathToFileURL(file).href);
    assert.deepEqual(asked, [pathToFileURL(file).href], 'the record asks for nothing else');
    assert.equal(await page.evaluate(() => document.compatMode), 'CSS1Compat');
    const rows = await page.evaluate(() =>
      [...document.querySelectorAll('tbody tr')].map((row) => [...row.cells].map((cell) => cell.textContent)),
    );
    const headings = await page.evaluate(() =>
      [...document.querySelectorAll('h2, h3')].map((heading) => heading.textContent),
    );
    assert.ok(rows.length > 200, `${rows.length} rows`);
    for (const [format, size] of Object.entries(papers)) {
      const pdf = join(folder, `${language}-${format}.pdf`);
      await page.pdf({path: pdf, format});
      assert.match(execFileSync('pdfinfo', [pdf], {encoding: 'utf8'}), size);
      const pages = execFileSync('pdftotext', ['-raw', pdf, '-'], {encoding: 'utf8'}).split('\f').slice(0, -1);
      assert.ok(pages.length >= 8 && pages.length <= 20, `${pages.length} pages`);
      pages.forEach((text, index) => {
        assert.ok(bare(text).startsWith(bare(head)), `${format}, page ${index + 1}: its head`);
        assert.ok(text.includes(`${index + 1} / ${pages.length}`), `${format}, page ${index + 1}: its number`);
      });
      const texts = pages.map(bare);
      for (const row of rows) {
        const whole = texts.some((text) => row.every((cell) => text.includes(bare(cell))));
        assert.ok(whole, `${format}: this row is cut: ${row.join(' | ')}`);
      }
      for (const heading of headings) {
        const alone = texts.some((text) => text.replace(bare(head), '').replace(/\d+\/\d+$/, '').endsWith(bare(heading)));
        assert.ok(!alone, `${format}: “${heading}” stands alone at the end of a page`);
      }
    }
    await page.close();
  });
}

test('the record reads on a narrow screen without going out of its sides', async () => {
  const file = join(folder, 'narrow.html');
  execFileSync(join(native, 'tawny'), ['report', log, '--pond', 'p5', '--at', now, '-o', file]);
  const page = await browser.newPage({viewport: {width: 390, height: 844}});
  await page.goto(pathToFileURL(file).href);
  const beyond = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
  assert.ok(beyond <= 0, `${beyond} px beyond`);
  await page.close();
});
