/**
 * Every screen on the displays it has to fit: a small and a common phone, a phone on its side, a laptop.
 */
import assert from 'node:assert/strict';
import {after, before, describe, test} from 'node:test';
import {serve} from '../../web/serve.mjs';
import {Phone, distFolder} from './harness.mjs';
import {visitAll} from './ways.mjs';

const controls = new Set(['button', 'tab', 'radio', 'checkbox', 'textfield']);
/** A finger needs this much, in CSS px. */
const kLeast = 48;

let server;
before(async () => {
  server = await serve({dir: distFolder()});
});
after(() => server.close());

/** @param {Phone} phone @param {string} where @param {number} width */
async function check(phone, where, width) {
  const found = (await phone.nodes()).filter(({role}) => controls.has(role));
  assert.ok(found.length > 0, `${where}: no control`);
  for (const {role, name, rect} of found) {
    const said = `${where}: ${role} "${name}" from ${rect.x} to ${rect.x + rect.width}, ${rect.height} high`;
    assert.ok(rect.x >= 0 && rect.x + rect.width <= width + 0.5, said);
    assert.ok(rect.width >= kLeast - 0.5 && rect.height >= kLeast - 0.5, said);
  }
}

describe('every control lies within the width of the screen, large enough for a finger', () => {
  for (const [width, height] of [
    [360, 640],
    [390, 844],
    [844, 390],
    [1280, 800],
  ]) {
    test(`${width} x ${height}`, async () => {
      const size = {width, height};
      const settings = {deviceScaleFactor: 1, viewport: size, screen: size, isMobile: width < 1000};
      const time = '2026-11-25T11:20:00Z';
      const phone = await Phone.start({query: '?demo', server, time, timezone: 'Etc/GMT+5', settings});
      try {
        await visitAll(phone, (where) => check(phone, where, width));
        assert.deepEqual(phone.errors, []);
      } finally {
        await phone.end();
      }
    });
  }
});
