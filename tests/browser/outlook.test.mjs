/**
 * The forecast on the pond page of the built app: the same as `tawny outlook` tells of the same entries, and no
 * work any more once it is there. Needs build/native (TAWNY_NATIVE names another folder).
 */
import assert from 'node:assert/strict';
import {execFileSync} from 'node:child_process';
import {mkdtemp, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, before, test} from 'node:test';
import {Phone} from './harness.mjs';
import {storedLines} from './stored.mjs';

const native = process.env.TAWNY_NATIVE ?? join(import.meta.dirname, '../../build/native');
const kIdleMs = 1500;
const now = '2026-11-25T18:00:00Z';
const pond = 'p5';

let phone, folder;

before(async () => {
  folder = await mkdtemp(join(tmpdir(), 'tawny-outlook-'));
  phone = await Phone.start({query: '?demo', time: now, timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}});
});
after(async () => {
  const errors = phone?.errors;
  await phone?.end();
  await rm(folder, {recursive: true, force: true});
  assert.deepEqual(errors, []);
});

/** The forecast that the shell command makes of what this phone stored. */
async function fromTheShell() {
  const log = join(folder, 'phone.jsonl');
  await writeFile(log, (await storedLines(phone.page)).map((line) => `${line}\n`).join(''));
  return JSON.parse(execFileSync(join(native, 'tawny'), ['outlook', log, '--pond', pond, '--at', now], {encoding: 'utf8'}));
}

test('a pond is looked ahead at, and then nothing is drawn any more', async () => {
  await phone.tap('tab', 'Ponds');
  await phone.tapNode(`pond/${pond}`);
  await phone.node('outlook/chart');
  await phone.settle();
  await phone.page.evaluate(() => {
    globalThis.drawings = 0;
    globalThis.frames = 0;
    const frame = globalThis.requestAnimationFrame;
    globalThis.requestAnimationFrame = (act) => (++globalThis.frames, frame(act));
    const clear = WebGL2RenderingContext.prototype.clear;
    WebGL2RenderingContext.prototype.clear = function (mask) {
      ++globalThis.drawings;
      clear.call(this, mask);
    };
  });
  // Nothing happening for a while is what is tested, so time must pass.
  await new Promise((passed) => setTimeout(passed, kIdleMs));
  const {drawings, frames} = await phone.page.evaluate(() => ({drawings: globalThis.drawings, frames: globalThis.frames}));
  assert.equal(drawings, 0);
  assert.ok(frames <= 8, `${frames} frames: only the last ones before it slept`);
});

test('it is the forecast that the shell command makes of the same entries, dose by dose and day by day', async () => {
  const {bloom, finished_cycles} = await fromTheShell();
  assert.ok(finished_cycles > 0, 'the farm has cycles to learn from');
  assert.equal(bloom.doses.length, 3);
  await phone.activate('outlook/days');
  for (const [index, dose] of bloom.doses.entries()) {
    await phone.activate(`outlook/dose/${index}`);
    assert.equal(dose.days.length, 5);
    for (const day of dose.days) {
      const {value} = await phone.node(`outlook/day/${day.day}`);
      const told = value.match(/\d+/g).slice(0, 3).map(Number);
      assert.deepEqual(told, [day.median_cm, day.low_cm, day.high_cm].map(Math.round), `${day.day}: "${value}"`);
    }
  }
});
