/**
 * Files that come and go by hand: packed and plain, dropped, and shared to the app from another one.
 */
import assert from 'node:assert/strict';
import {readFile} from 'node:fs/promises';
import {afterEach, test} from 'node:test';
import {gunzipSync, gzipSync} from 'node:zlib';
import {Phone} from './harness.mjs';

const morning = {query: '?demo', time: '2026-11-25T11:20:00Z', timezone: 'Etc/GMT+5', settings: {deviceScaleFactor: 1}};

/** @type {Phone} */
let phone;
afterEach(async () => {
  await phone.end();
  assert.deepEqual(phone.errors, []);
});

/** The demo farm's logbook as a person takes it out. */
async function takenOut() {
  await phone.tap('tab', 'Office');
  const [download] = await Promise.all([phone.page.waitForEvent('download'), phone.activate('office/out/share')]);
  return {name: download.suggestedFilename(), bytes: await readFile(await download.path())};
}

/** Hands a file to the page as a share sheet does: a form posted from elsewhere to the address that the manifest names. */
async function share(name, bytes) {
  const target = await phone.page.evaluate(async () => {
    const {href} = document.querySelector('link[rel=manifest]');
    const {share_target: named} = await (await fetch(href)).json();
    return {action: new URL(named.action, href).href, method: named.method, enctype: named.enctype, field: named.params.files[0].name};
  });
  await phone.page.goto('about:blank');
  await phone.page.evaluate(
    ({target, name, bytes}) => {
      const input = document.createElement('input');
      input.type = 'file';
      input.name = target.field;
      const files = new DataTransfer();
      files.items.add(new File([Uint8Array.from(bytes)], name, {type: 'text/plain'}));
      input.files = files.files;
      const form = document.createElement('form');
      Object.assign(form, {action: target.action, method: target.method, enctype: target.enctype});
      form.append(input);
      document.body.append(form);
      form.submit();
    },
    {target, name, bytes: [...bytes]},
  );
  await phone.page.waitForURL((url) => url.protocol === 'http:' && !url.pathname.endsWith('share'));
  await phone.started();
  // The blank page has no storage, which the tests' clock finds out.
  const ours = phone.errors.findIndex((error) => error.includes('sessionStorage'));
  if (ours >= 0) phone.errors.splice(ours, 1);
}

test('what another app shares is read and asked about, and leaves no trace in the address', async () => {
  phone = await Phone.start(morning);
  await phone.page.evaluate(() => navigator.serviceWorker.ready);
  const {name, bytes} = await takenOut();
  const plain = bytes[0] === 0x1f ? gunzipSync(bytes) : bytes;
  await share(name, plain);
  await phone.find('text', name.replace(/\.gz$/, ''));
  await phone.waitFor('button', 'Not now');
  assert.equal(new URL(phone.page.url()).search, '');
});

test('a packed file is read like a plain one, and a damaged one is refused in words', async () => {
  phone = await Phone.start(morning);
  const {bytes} = await takenOut();
  const packed = gzipSync(bytes[0] === 0x1f ? gunzipSync(bytes) : bytes);
  const pick = async (file) => {
    const [chooser] = await Promise.all([phone.page.waitForEvent('filechooser'), phone.activate('office/in/pick')]);
    await chooser.setFiles(file);
  };
  await pick({name: 'farm.txt.gz', mimeType: 'application/gzip', buffer: packed});
  await phone.find('text', 'farm.txt');
  await phone.activate('incoming/drop');
  await pick({name: 'broken.txt.gz', mimeType: 'application/gzip', buffer: packed.subarray(0, packed.length / 2)});
  await phone.page.waitForFunction(() => /damaged or too large/.test(document.getElementById('said-now').textContent));
});
