/**
 * A phone as it is: wet, with a notch, turned about, put away, short of memory, or without WebGL.
 */
import assert from 'node:assert/strict';
import {mkdir, mkdtemp, readFile, rm, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {after, afterEach, before, describe, test} from 'node:test';
import {chromium} from 'playwright-core';
import {serve} from '../../web/serve.mjs';
import {Phone, browserFlags, distFolder, phoneSettings} from './harness.mjs';
import {storedLines} from './stored.mjs';

const morning = {query: '?demo', time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}};
/** The most that the graphics of every phone take. */
const kLargestTexture = 4096;
/** A contact has rested this long before the next one comes (Fingers::kRestS). */
const kRestMs = 350;

/** @type {Phone} */
let phone;
/** @type {any} CDP */
let glass;

async function open(options = morning) {
  phone = await Phone.start(options);
  glass = await phone.context.newCDPSession(phone.page);
}
afterEach(async () => {
  if (!phone) return;
  const errors = phone.errors;
  await phone.end();
  phone = undefined;
  assert.deepEqual(errors, []);
});

/** @typedef {{x: number, y: number, id: number, radiusX?: number, radiusY?: number}} Point */
/**
 * @param {'touchStart' | 'touchMove' | 'touchEnd' | 'touchCancel'} type
 * @param {Point[]} touchPoints all that are down; of an end, those that lift, or none for all
 */
async function touch(type, touchPoints) {
  await glass.send('Input.dispatchTouchEvent', {type, touchPoints});
  await phone.page.evaluate(() => new Promise(requestAnimationFrame));
}
const rest = () => new Promise((rested) => setTimeout(rested, kRestMs));
const selected = async () => (await phone.nodes()).find(({role, state}) => role === 'tab' && state === 'selected')?.name;
const yOf = async (/** @type {string} */ name) => (await phone.find('heading', name)).rect.y;
/** @param {string} role @param {string} name @param {number} id @returns {Promise<Point>} */
async function middle(role, name, id) {
  const {rect} = await phone.find(role, name);
  return {x: rect.x + rect.width / 2, y: rect.y + rect.height / 2, id};
}
const values = async () => (await phone.nodes()).map(({name, value}) => `${name} ${value}`).join('\n');
const kDrop = {x: 200, y: 420, id: 0};

describe('on a wet phone', () => {
  test('a finger taps, scrolls and types while a drop rests', async () => {
    await open();
    await touch('touchStart', [kDrop]);
    await rest();
    const tab = await middle('tab', 'Ponds', 1);
    await touch('touchStart', [kDrop, tab]);
    await touch('touchEnd', [tab]);
    await phone.settle();
    assert.equal(await selected(), 'Ponds');

    const heading = (await phone.nodes()).find(({role, id}) => role === 'button' && id.startsWith('pond/'));
    const finger = {x: 300, y: 600, id: 1};
    await touch('touchStart', [kDrop, finger]);
    for (let y = 580; y >= 400; y -= 20) await touch('touchMove', [kDrop, {...finger, y}]);
    await rest();
    await touch('touchEnd', [{...finger, y: 400}]);
    await phone.settle();
    const moved = (await phone.nodes()).find(({id}) => id === heading.id);
    assert.ok(moved.rect.y < heading.rect.y - 100, `from ${heading.rect.y} to ${moved.rect.y}`);
    await touch('touchEnd', []);
    await phone.settle();
    assert.equal(await selected(), 'Ponds', 'the drop that is wiped off presses nothing');
  });

  test('a text field opens under a finger while a drop rests', async () => {
    await open({settings: morning.settings});
    await phone.tap('button', 'Set up my farm');
    const field = await middle('textfield', 'Name of the farm', 1);
    const drop = {...kDrop, y: 700};
    await touch('touchStart', [drop]);
    await rest();
    await touch('touchStart', [drop, field]);
    await touch('touchEnd', [field]);
    assert.equal(await phone.page.evaluate(() => document.activeElement?.id), 'entry-bar-input');
    await touch('touchEnd', []);
  });

  test('a palm presses nothing, and a finger taps beside it', async () => {
    await open();
    const palm = {...(await middle('tab', 'Ponds', 0)), radiusX: 90, radiusY: 110};
    await touch('touchStart', [palm]);
    await touch('touchEnd', []);
    await phone.settle();
    assert.equal(await selected(), 'Rounds');
    await touch('touchStart', [palm]);
    const finger = await middle('tab', 'Logbook', 1);
    await touch('touchStart', [palm, finger]);
    await touch('touchEnd', [finger]);
    await touch('touchEnd', []);
    await phone.settle();
    assert.equal(await selected(), 'Logbook');
  });

  test('two fingers that pinch press nothing, neither the first that lifts nor the last', async () => {
    await open();
    const one = await middle('tab', 'Ponds', 0);
    const two = await middle('tab', 'Office', 1);
    await touch('touchStart', [one]);
    await touch('touchStart', [one, two]);
    for (let way = 10; way <= 40; way += 10) await touch('touchMove', [{...one, x: one.x + way}, {...two, x: two.x - way}]);
    await touch('touchMove', [one, two]);
    await touch('touchEnd', [two]);
    await touch('touchEnd', []);
    await phone.settle();
    assert.equal(await selected(), 'Rounds');
    await phone.tap('tab', 'Ponds');
    assert.equal(await selected(), 'Ponds', 'the next touch counts');
  });

  test('what the system takes away presses nothing and is not stuck', async () => {
    await open();
    const at = await middle('tab', 'Ponds', 0);
    await touch('touchStart', [at]);
    await touch('touchCancel', []);
    await phone.settle();
    assert.equal(await selected(), 'Rounds');
    await touch('touchStart', [at]);
    await phone.page.evaluate(() => {
      Object.defineProperty(document, 'visibilityState', {value: 'hidden', configurable: true});
      document.dispatchEvent(new Event('visibilitychange'));
      delete document.visibilityState;
      document.dispatchEvent(new Event('visibilitychange'));
    });
    await touch('touchEnd', []);
    await phone.settle();
    assert.equal(await selected(), 'Rounds', 'a page that was hidden meanwhile');
    await phone.tap('tab', 'Ponds');
    assert.equal(await selected(), 'Ponds');
  });

  test('a finger that lifts while it drags throws the page on, and the touch that stops it presses nothing', async () => {
    await open();
    await phone.tap('tab', 'Logbook');
    const finger = {x: 195, y: 700, id: 0};
    const top = () =>
      phone.page.evaluate(() =>
        Math.min(...[...document.querySelectorAll('#mirror *')].map((node) => node.getBoundingClientRect().top)),
      );
    const rest = await top();
    // The touch comes some frames after the finger has left: the page has then taken each of the strokes, one a frame, and
    // glides on for as many again, however slow they are. So the page itself touches, and waits for that from before the
    // finger comes.
    await phone.page.evaluate(() => {
      const canvas = /** @type {HTMLElement} */ (document.getElementById('canvas'));
      // A pointer that the page makes itself is none that the browser could hold on to.
      canvas.setPointerCapture = () => {};
      globalThis.touched = new Promise((resolve) => {
        const wait = (frames) => {
          if (frames > 0) return requestAnimationFrame(() => wait(frames - 1));
          for (const type of ['pointerdown', 'pointerup']) {
            canvas.dispatchEvent(new PointerEvent(type,
              {pointerId: 77, pointerType: 'touch', clientX: 195, clientY: 400, width: 20, height: 20}));
          }
          return resolve(undefined);
        };
        canvas.addEventListener('pointerup', () => wait(24), {once: true});
      });
    });
    // All at once, each with its own time: how fast a finger is, its events say, however late a busy machine hands
    // them on, and however many it makes one of.
    const start_s = Date.now() / 1000 - 0.1;
    const stroke = (type, touchPoints, ms) =>
      glass.send('Input.dispatchTouchEvent', {type, touchPoints, timestamp: start_s + ms / 1000});
    const strokes = [stroke('touchStart', [finger], 0)];
    for (let step = 1; step <= 20; ++step) {
      strokes.push(stroke('touchMove', [{...finger, y: finger.y - 20 * step}], 4 * step));
    }
    strokes.push(stroke('touchEnd', [], 84));
    await Promise.all(strokes);
    await phone.page.evaluate(() => globalThis.touched);
    await phone.settle();
    const stopped = await top();
    assert.ok(stopped < rest - (finger.y - 300), 'it went farther than the finger');
    await phone.settle();
    assert.equal(await top(), stopped, 'and stands');
    assert.ok(await phone.look('heading', 'Logbook'), 'nothing was opened');
  });

  test('a mouse presses, and its wheel scrolls', async () => {
    const size = {width: 1280, height: 800};
    await open({...morning, settings: {viewport: size, screen: size, isMobile: false, hasTouch: false, deviceScaleFactor: 1}});
    const {x, y} = await middle('tab', 'Logbook', 0);
    await phone.page.mouse.click(x, y);
    await phone.settle();
    assert.equal(await selected(), 'Logbook');
    const first = (await phone.nodes()).filter(({rect}) => rect.x > 220 && rect.y > 120)[0];
    await phone.page.mouse.move(700, 500);
    await phone.page.mouse.wheel(0, 300);
    await phone.settle();
    const moved = (await phone.nodes()).find(({id}) => id === first.id);
    assert.ok(moved.rect.y < first.rect.y - 100, `from ${first.rect.y} to ${moved.rect.y}`);
  });
});

test('who has large letters in the browser gets large ones here', async () => {
  const heights = [];
  const server = await serve({dir: distFolder()});
  for (const letters of [16, 24]) {
    const profile = await mkdtemp(join(tmpdir(), 'tawny-letters-'));
    await mkdir(join(profile, 'Default'));
    const preferences = {webkit: {webprefs: {default_font_size: letters}}};
    await writeFile(join(profile, 'Default', 'Preferences'), JSON.stringify(preferences));
    const context = await chromium.launchPersistentContext(profile, {
      ...phoneSettings,
      // Playing a phone, the browser would play a phone's own letters too.
      isMobile: false,
      executablePath: process.env.TAWNY_CHROMIUM ?? '/usr/bin/chromium',
      args: browserFlags,
    });
    try {
      await open({...morning, server, context});
      await phone.settle();
      heights.push((await phone.find('text', 'Heron Bend')).rect.height);
    } finally {
      phone = undefined;
      await context.close();
      await rm(profile, {recursive: true, force: true});
    }
  }
  await server.close();
  assert.ok(heights[1] > heights[0] * 1.2, `${heights}`);
});

describe('every screen density', () => {
  for (const density of [1, 2, 2.625, 4]) {
    test(`${density} pixels to one of CSS: drawn at the phone's own, from an atlas that every phone can hold`, async () => {
      const server = await serve({dir: distFolder()});
      const watch = () => {
        globalThis.largest = 0;
        const {texImage2D} = WebGL2RenderingContext.prototype;
        WebGL2RenderingContext.prototype.texImage2D = function (...given) {
          globalThis.largest = Math.max(globalThis.largest, given[3], given[4]);
          return texImage2D.apply(this, given);
        };
      };
      const browser = await chromium.launch({executablePath: process.env.TAWNY_CHROMIUM ?? '/usr/bin/chromium', args: browserFlags});
      try {
        const context = await browser.newContext({...phoneSettings, deviceScaleFactor: density});
        await context.addInitScript(watch);
        await open({query: '?demo', server, context});
        await phone.settle();
        const {size, largest} = await phone.page.evaluate(() => {
          const {width, height} = document.getElementById('canvas');
          return {size: [width, height], largest: globalThis.largest};
        });
        assert.deepEqual(size, [Math.floor(390 * density), Math.floor(844 * density)]);
        assert.ok(largest > 0 && largest <= kLargestTexture, `an atlas of ${largest} px`);
      } finally {
        await phone.page.close();
        phone = undefined;
        await browser.close();
        await server.close();
      }
    });
  }
});

describe('a phone that is held, turned and put away', () => {
  test('no control lies under a notch or a home bar, upright or on its side', async () => {
    await open();
    for (const [size, insets] of [
      [{width: 390, height: 844}, {top: 47, left: 0, bottom: 34, right: 0}],
      [{width: 844, height: 390}, {top: 0, left: 47, bottom: 21, right: 47}],
    ]) {
      await phone.page.setViewportSize(size);
      await glass.send('Emulation.setSafeAreaInsetsOverride', {insets});
      await phone.page.evaluate(() => dispatchEvent(new Event('resize')));
      await phone.settle();
      for (const tab of ['rounds', 'ponds', 'bin', 'logbook', 'office']) {
        await phone.activate(`tab/tab/${tab}`);
        for (const {role, name, rect} of await phone.nodes()) {
          const said = `${tab}, ${size.width} px: ${role} "${name}" at ${rect.x}, ${rect.y}, ${rect.width} x ${rect.height}`;
          assert.ok(rect.x >= insets.left - 0.5 && rect.x + rect.width <= size.width - insets.right + 0.5, said);
          if (role === 'tab') assert.ok(rect.y + rect.height <= size.height - insets.bottom + 0.5, said);
          if (rect.y < 0 || role !== 'heading' || name !== (await title())) continue;
          assert.ok(rect.y >= insets.top - 0.5, said);
        }
      }
    }
  });
  const title = async () => (await phone.node('title')).name;

  test('an address bar that comes and goes, and a turn, keep the place and what was typed', async () => {
    await open();
    for (const id of ['tab/tab/ponds', 'pond/p5', 'pond/enter', 'act/water_reading']) await phone.activate(id);
    const field = (await phone.nodes()).find(({role, name}) => role === 'button' && name.startsWith('Oxygen'));
    if (field) await phone.tapNode(field.id);
    await phone.keys('5.3');
    assert.match(await values(), /5\.3/);
    for (const size of [
      {width: 390, height: 744},
      {width: 844, height: 390},
      {width: 390, height: 844},
    ]) {
      await phone.page.setViewportSize(size);
      await phone.settle();
      assert.match(await values(), /5\.3/, `at ${size.width} x ${size.height}`);
    }
    while (await phone.present('back')) await phone.activate('back');
    await phone.activate('tab/tab/logbook');
    await phone.drag(195, 600, -250);
    const seen = (await phone.nodes()).filter(({role, rect}) => role !== 'tab' && rect.y > 300)[0];
    await phone.page.setViewportSize({width: 390, height: 744});
    await phone.settle();
    const still = (await phone.nodes()).find(({id}) => id === seen.id);
    assert.ok(Math.abs(still.rect.y - seen.rect.y) < 2, `from ${seen.rect.y} to ${still.rect.y}`);
  });

  test('a drawing context that is lost in the middle of an entry takes nothing of it', async () => {
    await open();
    for (const id of ['tab/tab/ponds', 'pond/p5', 'pond/enter', 'act/water_reading']) await phone.activate(id);
    const field = (await phone.nodes()).find(({role, name}) => role === 'button' && name.startsWith('Oxygen'));
    if (field) await phone.tapNode(field.id);
    await phone.keys('5.');
    await loseContext(true);
    await phone.settle();
    await phone.keys('4');
    assert.match(await values(), /5\.4/);
    assert.equal(await phone.page.locator('#fallback').isVisible(), false);
  });

  test('a context that does not come back leaves a plain message and the way to the logbook', async () => {
    await open();
    await loseContext(false);
    await phone.page.locator('#fallback').waitFor({state: 'visible'});
    const download = phone.page.waitForEvent('download');
    await phone.page.locator('#fallback button', {hasText: 'Take the logbook out'}).tap();
    assert.ok((await readFile(await (await download).path(), 'utf8')).length > 1000);
    await phone.page.evaluate(() => globalThis.lost.restoreContext());
    await phone.page.locator('#fallback').waitFor({state: 'hidden'});
    await phone.settle();
    await phone.tap('tab', 'Ponds');
    assert.equal(await selected(), 'Ponds', 'and when it does come back, the app goes on');
  });

  test('a phone that has no more memory to give says so on a page that still takes the logbook out', async () => {
    await open();
    await phone.page.evaluate(() => {
      WebAssembly.Memory.prototype.grow = () => {
        throw new RangeError('no more memory');
      };
    });
    // A file larger than what is free, brought in.
    await phone.activate('tab/tab/office');
    const choosing = phone.page.waitForEvent('filechooser');
    await phone.tap('button', 'Bring in a file');
    const folder = await mkdtemp(join(tmpdir(), 'tawny-large-'));
    try {
      await writeFile(join(folder, 'large.txt'), Buffer.alloc(49 * 2 ** 20, 'x'));
      await (await choosing).setFiles(join(folder, 'large.txt'));
      await phone.page.locator('#fallback').waitFor({state: 'visible'});
    } finally {
      await rm(folder, {recursive: true});
    }
    assert.equal(await phone.page.locator('#fallback button').count(), 2);
    phone.errors = [];
  });

  test('a page that is shown again draws the minute that it is now', async () => {
    await open();
    const before = await values();
    await phone.setTime('2026-11-25T20:30:00Z');
    assert.notEqual(await values(), before);
  });
});

/** @param {boolean} back whether the browser gives it back */
async function loseContext(back) {
  await phone.page.evaluate(async (restores) => {
    const canvas = document.getElementById('canvas');
    globalThis.lost = canvas.getContext('webgl2').getExtension('WEBGL_lose_context');
    const told = (name) => new Promise((resolve) => canvas.addEventListener(name, resolve, {once: true}));
    const gone = told('webglcontextlost');
    globalThis.lost.loseContext();
    await gone;
    await new Promise(requestAnimationFrame);
    if (!restores) return;
    const restored = told('webglcontextrestored');
    globalThis.lost.restoreContext();
    await restored;
  }, back);
}

describe('what a phone offers', () => {
  /** @param {'takes' | 'refuses' | 'lacks'} manner */
  const stubShare = (manner) =>
    phone.page.evaluate((how) => {
      globalThis.given = [];
      const put = (name, value) => Object.defineProperty(navigator, name, {value, configurable: true});
      put('canShare', how === 'lacks' ? undefined : () => true);
      put('share', async ({files}) => {
        if (how === 'refuses') throw new DOMException('no', 'DataError');
        globalThis.given.push({name: files[0].name, type: files[0].type, text: await files[0].text()});
      });
    }, manner);

  test('the share sheet gets the logbook as a text file; where there is none, or it refuses, it is a download', async () => {
    await open();
    const lines = await storedLines(phone.page);
    await phone.activate('tab/tab/office');
    await stubShare('takes');
    await phone.tap('button', 'Take out a file');
    const [given] = await phone.page.evaluate(() => globalThis.given);
    assert.match(given.name, /\.txt$/);
    assert.equal(given.type, 'text/plain');
    // An index comes first.
    assert.deepEqual(given.text.trim().split('\n').slice(1), lines);
    await phone.tapNode('office/out/table');
    const table = await phone.page.evaluate(() => globalThis.given[1]);
    assert.match(table.name, /\d\.csv$/);
    assert.equal(table.type, 'text/csv');
    assert.ok(table.text.split('\r\n').length > lines.length);
    for (const manner of /** @type {const} */ (['refuses', 'lacks'])) {
      await stubShare(manner);
      const downloading = phone.page.waitForEvent('download');
      await phone.tap('button', 'Take out a file');
      const text = await readFile(await (await downloading).path(), 'utf8');
      assert.deepEqual(text.trim().split('\n').slice(1), lines, manner);
    }
  });

  test('a save is felt; a phone that cannot shake says nothing of it', async () => {
    await open();
    const save = async () => {
      for (const id of ['tab/tab/ponds', 'pond/p5', 'pond/enter', 'act/sky']) await phone.activate(id);
      const sky = (await phone.nodes()).find(({role}) => role === 'radio');
      await phone.tapNode(sky.id);
      await phone.tapNode('save');
      await phone.settle();
      while (await phone.present('back')) await phone.activate('back');
    };
    await phone.page.evaluate(() => {
      globalThis.shaken = [];
      Object.defineProperty(navigator, 'vibrate', {value: (ms) => globalThis.shaken.push(ms), configurable: true});
    });
    await save();
    assert.equal((await phone.page.evaluate(() => globalThis.shaken)).length, 1);
    await phone.page.evaluate(() => Object.defineProperty(navigator, 'vibrate', {value: undefined}));
    await save();
  });
});

describe('a browser without WebGL', () => {
  let server, profile;
  before(async () => {
    server = await serve({dir: distFolder()});
    profile = await mkdtemp(join(tmpdir(), 'tawny-profile-'));
  });
  after(async () => {
    await server.close();
    await rm(profile, {recursive: true, force: true, maxRetries: 5, retryDelay: 100});
  });
  /** @param {string[]} flags @param {object} [settings] */
  const launch = (flags, settings) =>
    chromium.launchPersistentContext(profile, {
      executablePath: process.env.TAWNY_CHROMIUM ?? '/usr/bin/chromium',
      args: flags,
      ...phoneSettings,
      ...settings,
    });

  test('says so plainly, and takes out what an earlier one has stored', async () => {
    const able = await launch(browserFlags);
    let page = await able.newPage();
    await page.goto(`${server.url}?demo`);
    await page.locator('#mirror [data-node]').first().waitFor({state: 'attached'});
    const lines = await storedLines(page);
    await able.close();
    assert.ok(lines.length > 10);

    for (const width of [320, 390]) {
      const size = {width, height: 640};
      const unable = await launch(['--no-sandbox', '--disable-3d-apis'], {viewport: size, screen: size, deviceScaleFactor: 2});
      page = await unable.newPage();
      await page.goto(`${server.url}?demo`);
      await page.locator('#fallback [role=alert]').waitFor();
      assert.match(await page.locator('#fallback').innerText(), /WebGL/);
      for (const button of await page.locator('#fallback button').all()) {
        const box = await button.boundingBox();
        assert.ok(box && box.height >= 48 && box.x >= 0 && box.x + box.width <= width, `${JSON.stringify(box)}`);
      }
      if (process.env.TAWNY_PICTURES) await page.screenshot({path: join(process.env.TAWNY_PICTURES, `fallback-${width}.png`)});
      const downloading = page.waitForEvent('download');
      await page.locator('#fallback button', {hasText: 'Take the logbook out'}).tap();
      const text = await readFile(await (await downloading).path(), 'utf8');
      assert.deepEqual(text.trim().split('\n').sort(), lines.map((line) => line.trim()).sort());
      await unable.close();
    }
  });
});
