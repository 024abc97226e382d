/**
 * The shell under the screens: frames, touches, a lost drawing context, a turned phone, the mirror and the entry bar.
 */
import assert from 'node:assert/strict';
import {readFile} from 'node:fs/promises';
import {createRequire} from 'node:module';
import {afterEach, beforeEach, describe, test} from 'node:test';
import {Phone, phoneSettings} from './harness.mjs';

const axe = await readFile(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const kIdleMs = 3000;

/** @type {Phone} */
let phone;

const open = (options) => async () => {
  phone = await Phone.start(options);
};
afterEach(async () => {
  const errors = phone.errors;
  await phone.end();
  assert.deepEqual(errors, []);
});

/** Counts frames of the page and drawings on the canvas from now on. */
const count = () =>
  phone.page.evaluate(() => {
    globalThis.counted = {frames: 0, drawings: 0};
    const frame = globalThis.requestAnimationFrame;
    globalThis.requestAnimationFrame = (act) => (++counted.frames, frame(act));
    const clear = WebGL2RenderingContext.prototype.clear;
    WebGL2RenderingContext.prototype.clear = function (mask) {
      ++counted.drawings;
      clear.call(this, mask);
    };
  });
const counted = () => phone.page.evaluate(() => counted);
const selected = async () => (await phone.nodes()).find(({role, state}) => role === 'tab' && state === 'selected')?.name;

const middle = ({rect: {x, y, width, height}}) => [x + width / 2, y + height / 2];

/** How many different colours a screenshot has: a blank canvas has one. */
async function colours() {
  const png = [...(await phone.page.screenshot())];
  return phone.page.evaluate(async (bytes) => {
    // As a blob: the page may show no picture out of its own text.
    const image = await createImageBitmap(new Blob([Uint8Array.from(bytes)], {type: 'image/png'}));
    const canvas = new OffscreenCanvas(image.width, image.height);
    const context = canvas.getContext('2d');
    context.drawImage(image, 0, 0);
    return new Set(new Uint32Array(context.getImageData(0, 0, image.width, image.height).data.buffer)).size;
  }, png);
}

describe('on the demo farm', () => {
  beforeEach(open({query: '?demo', time: '2026-11-25T09:00:00Z'}));

  test('the screen is drawn', async () => {
    await phone.settle();
    assert.ok((await colours()) > 20);
  });

  test('nothing is drawn while nothing happens, and a touch draws a few frames only', async () => {
    await phone.settle();
    await count();
    // The program may still be in its last frames; nothing happening for a while is what is tested, so time must pass.
    const passed = () => new Promise((done) => setTimeout(done, kIdleMs));
    for (let frames = -1; frames !== (await counted()).frames; await passed()) ({frames} = await counted());
    const asleep = await counted();
    await passed();
    assert.deepEqual(await counted(), asleep);
    assert.ok(asleep.frames <= 8, `${asleep.frames} frames until it slept`);

    // Where it changes nothing, a touch runs frames and draws none.
    await phone.page.touchscreen.tap(195, 60);
    await passed();
    const untouched = await counted();
    assert.ok(untouched.frames > asleep.frames, 'a touch wakes the program');
    assert.equal(untouched.drawings, asleep.drawings);

    await phone.page.touchscreen.tap(...middle(await phone.find('tab', 'Ponds')));
    await passed();
    const drawings = (await counted()).drawings - untouched.drawings;
    assert.ok(drawings >= 1 && drawings <= 12, `${drawings} drawings for one touch`);
  });

  test('a canvas that was emptied is drawn anew when the window is sized, also to the same size', async () => {
    await phone.settle();
    const whole = await colours();
    await phone.page.evaluate(() => {
      const graphics = document.getElementById('canvas').getContext('webgl2');
      graphics.disable(graphics.SCISSOR_TEST);
      graphics.clear(graphics.COLOR_BUFFER_BIT);
    });
    assert.ok((await colours()) < whole / 2, 'it is empty');
    await phone.page.evaluate(() => dispatchEvent(new Event('resize')));
    await phone.settle();
    assert.equal(await colours(), whole);
  });

  test('a touch on a tab opens it', async () => {
    await phone.tap('tab', 'Ponds');
    assert.equal(await selected(), 'Ponds');
  });

  test('a touch that the system takes away presses nothing', async () => {
    const {rect} = await phone.find('tab', 'Ponds');
    const point = {x: rect.x + rect.width / 2, y: rect.y + rect.height / 2};
    const touch = await phone.context.newCDPSession(phone.page);
    await touch.send('Input.dispatchTouchEvent', {type: 'touchStart', touchPoints: [point]});
    await phone.settle();
    await touch.send('Input.dispatchTouchEvent', {type: 'touchCancel', touchPoints: []});
    await phone.settle();
    assert.equal(await selected(), 'Rounds');
    await phone.tap('tab', 'Ponds');
    assert.equal(await selected(), 'Ponds', 'the next touch counts again');
  });

  test('a finger that drags scrolls and presses nothing', async () => {
    const before = await phone.find('heading', 'Now');
    await phone.drag(195, 600, -200);
    const after = await phone.look('heading', 'Now');
    assert.ok(after.rect.y < before.rect.y - 150, `moved from ${before.rect.y} to ${after?.rect.y}`);
    assert.equal(await selected(), 'Rounds');
  });

  test('the drawing context is lost and given back: the app goes on where it was', async () => {
    await phone.page.evaluate(async () => {
      const canvas = document.getElementById('canvas');
      const context = canvas.getContext('webgl2').getExtension('WEBGL_lose_context');
      const told = (name) => new Promise((resolve) => canvas.addEventListener(name, resolve, {once: true}));
      const lost = told('webglcontextlost');
      context.loseContext();
      await lost;
      // The browser refuses to give a context back within the same turn.
      await new Promise(requestAnimationFrame);
      const restored = told('webglcontextrestored');
      context.restoreContext();
      await restored;
    });
    await phone.settle();
    assert.ok((await colours()) > 20, 'the screen is drawn again');
    await phone.tap('tab', 'Logbook');
    assert.equal(await selected(), 'Logbook');
    assert.ok((await colours()) > 20);
  });

  test('a phone that is turned lays its screen out anew at its full density', async () => {
    await phone.page.setViewportSize({width: 844, height: 390});
    await phone.settle();
    const size = await phone.page.evaluate(() => {
      const {width, height} = document.getElementById('canvas');
      return [width, height];
    });
    const {deviceScaleFactor: density} = phoneSettings;
    assert.deepEqual(size, [844 * density, 390 * density]);
    await phone.tap('tab', 'Ponds');
    assert.equal(await selected(), 'Ponds');
  });

  test('a keyboard reaches every control of the mirror, and keeps its place', async () => {
    const focused = () => phone.page.evaluate(() => document.activeElement?.getAttribute('data-name'));
    for (let tries = 0; tries < 100 && (await focused()) !== 'Ponds'; ++tries) await phone.page.keyboard.press('Tab');
    assert.equal(await focused(), 'Ponds');
    await phone.page.keyboard.press('Enter');
    await phone.settle();
    assert.equal(await selected(), 'Ponds');
    assert.equal(await focused(), 'Ponds');
  });

  test('what the keyboard comes to is scrolled into view', async () => {
    const below = await phone.look('radio', 'All work');
    assert.ok(below.rect.y > 844, 'it stands below the screen at first');
    await phone.page.locator('#mirror [data-name="All work"]').focus();
    await phone.settle();
    const {rect} = await phone.look('radio', 'All work');
    assert.ok(rect.y > 64 && rect.y + rect.height < 844 - 64, `at ${rect.y}`);
  });

  test('no error and no gap that an accessibility checker finds, on any of the areas', async () => {
    await phone.page.evaluate(axe);
    for (const tab of ['Rounds', 'Ponds', 'Dose bin', 'Logbook', 'Office']) {
      await phone.tap('tab', tab);
      const faults = await phone.page.evaluate(async () => {
        // Contrast is a matter of the canvas, which tests/ui holds to its bars: the mirror's text is see-through.
        const {violations} = await globalThis.axe.run({rules: {'color-contrast': {enabled: false}}});
        return violations.map(({id, nodes}) => `${id}: ${nodes.map(({html}) => html).slice(0, 3)}`);
      });
      assert.deepEqual(faults, [], tab);
    }
  });

  test('a second tab reads the same logbook while the first one keeps the pen', async () => {
    const first = phone;
    const second = await Phone.start({query: '?demo', server: first.server, context: first.context});
    const lines = (page) =>
      page.evaluate(
        () =>
          new Promise((resolve) => {
            const opening = indexedDB.open('tawny-demo');
            opening.onsuccess = () => {
              const counting = opening.result.transaction('entries').objectStore('entries').count();
              counting.onsuccess = () => resolve(counting.result);
            };
          }),
      );
    assert.ok((await lines(second.page)) > 0);
    const {held} = await second.page.evaluate(() => navigator.locks.query());
    assert.equal(held.filter(({name}) => name === 'tawny-writer-demo').length, 1);
    assert.deepEqual(second.errors, []);
    await second.end();
  });
});

describe('on a new phone', () => {
  beforeEach(open({}));

  test('a tap on a text field opens the entry bar, in focus; what is typed comes back composed', async () => {
    await phone.tap('button', 'Set up my farm');
    await phone.tap('textfield', 'Name of the farm');
    const focused = await phone.page.evaluate(() => document.activeElement?.id);
    assert.equal(focused, 'entry-bar-input');
    const input = phone.page.locator('#entry-bar-input');
    await input.pressSequentially('Bãi Sậyx'.normalize('NFD'));
    await input.press('Backspace');
    await input.press('Enter');
    await phone.settle();
    assert.equal((await phone.look('textfield', 'Name of the farm')).value, 'Bãi Sậy'.normalize('NFC'));
    assert.equal(await phone.page.locator('#entry-bar').isVisible(), false);
  });

  test('two touches on the very same spot are two touches', async () => {
    await phone.tap('button', 'Set up my farm');
    await phone.tap('button', 'Latitude');
    await phone.keys('11.22');
    const shown = (await phone.nodes()).map(({name, value}) => `${name} ${value}`);
    assert.ok(shown.some((text) => text.includes('11.22')), shown.join('\n'));
  });

  test('cancel leaves the text as it was', async () => {
    await phone.tap('button', 'Set up my farm');
    await phone.type('Name of the farm', 'Reed');
    await phone.tap('textfield', 'Name of the farm');
    await phone.page.locator('#entry-bar-input').fill('Other');
    await phone.page.locator('#entry-bar .cancel').tap();
    assert.equal((await phone.look('textfield', 'Name of the farm')).value, 'Reed');
  });

  test('a drag that ends on a text field opens nothing', async () => {
    await phone.tap('button', 'Set up my farm');
    await phone.drag(195, 300, -196);
    assert.equal(await phone.page.locator('#entry-bar').isVisible(), false);
  });
});
