/**
 * What the page's own policy keeps a script from that got into the page all the same, and what it lets a sync do.
 */
import assert from 'node:assert/strict';
import {after, before, describe, test} from 'node:test';
import {originOf} from '../../web/src/carriers/origin.js';
import {serve} from '../../web/serve.mjs';
import {Elsewhere, waysOut} from './elsewhere.mjs';
import {distFolder, endAll, launch, Phone, phoneSettings} from './harness.mjs';

let browser, server, elsewhere;

before(async () => {
  browser = await launch();
  server = await serve({dir: distFolder()});
  elsewhere = await Elsewhere.start();
});
after(() => endAll(() => browser?.close(), () => server?.close(), () => elsewhere?.end()));

const open = async (/** @type {string} */ query) =>
  Phone.start({query, server, context: await browser.newContext({...phoneSettings, deviceScaleFactor: 1})});

/** What was refused up to now; the page's word for it comes after the refusal itself. @param {any} page @returns {Promise<string[]>} */
async function takeRefusals(page) {
  await page.evaluate(() => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))));
  return browser.refusals.splice(0);
}

/** Goes that way in the page, and waits until the browser has refused it. @param {any} page @param {string} way */
const tryOut = (page, way) =>
  page.evaluate(
    async ([source, address]) => {
      const refused = new Promise((done) =>
        addEventListener('securitypolicyviolation', ({effectiveDirective}) => done(effectiveDirective), {once: true}),
      );
      try {
        // The test's own way into the page, past its policy: as text it could not come in.
        globalThis.wayOut[source](address);
      } catch {
        // Refused at once.
      }
      return refused;
    },
    [way, `${elsewhere.origin}/${way.replaceAll(' ', '-')}`],
  );

/** Puts the ways out into the page, as a script of the page itself would have them. @param {any} context */
const bringIn = (context) =>
  context.addInitScript({
    content: `globalThis.wayOut = {${Object.entries(waysOut).map(([way, act]) => `${JSON.stringify(way)}: ${act}`).join(',\n')}};`,
  });

describe('a script in the page', () => {
  test('reaches another origin by each of these ways where no policy keeps it', async () => {
    const bare = await Elsewhere.start();
    const page = await (await browser.newContext()).newPage();
    await bringIn(page.context());
    await page.goto(bare.origin);
    await page.evaluate(
      ([ways, origin]) => ways.forEach((way) => globalThis.wayOut[way](`${origin}/bare/${way.replaceAll(' ', '-')}`)),
      [Object.keys(waysOut), elsewhere.origin],
    );
    const missing = () =>
      Object.keys(waysOut).filter((way) => !elsewhere.asked.some((asked) => asked.endsWith(`/bare/${way.replaceAll(' ', '-')}`)));
    const end = Date.now() + 20_000;
    while (missing().length > 0 && Date.now() < end) await page.evaluate(() => new Promise(requestAnimationFrame));
    assert.deepEqual(missing(), []);
    await page.context().close();
    await bare.end();
    elsewhere.asked.length = 0;
  });

  test('reaches none by any of them in Tawny, nor does the service worker', async () => {
    const phone = await open('?demo');
    await bringIn(phone.context);
    await phone.reload();
    assert.equal(await phone.offlineReady(), true);
    for (const way of Object.keys(waysOut)) {
      assert.match(String(await tryOut(phone.page, way)), /-(src|elem|action)/, way);
    }
    const [worker] = phone.context.serviceWorkers();
    const answers = await worker.evaluate(async (/** @type {string} */ other) => {
      const status = async (/** @type {string} */ address) => {
        try {
          return (await fetch(address)).status;
        } catch (error) {
          return String(error);
        }
      };
      return [await status('index.html'), await status(other)];
    }, `${elsewhere.origin}/worker`);
    assert.deepEqual(answers, [200, 'TypeError: Failed to fetch']);
    assert.deepEqual(elsewhere.asked, []);
    const refusals = await takeRefusals(phone.page);
    assert.ok(refusals.length >= Object.keys(waysOut).length, 'and the harness has seen it');
    await phone.page.context().close();
  });

  test('makes no text into markup, code or the name of a script', async () => {
    const phone = await open('?demo');
    const outcomes = await phone.page.evaluate(async () => {
      // In a task of its own: what a test evaluates may itself use eval.
      await new Promise((begun) => setTimeout(begun));
      const element = document.createElement('div');
      document.body.append(element);
      /** @type {Record<string, () => unknown>} */
      const attempts = {
        innerHTML: () => (element.innerHTML = '<b>x</b>'),
        outerHTML: () => (element.outerHTML = '<b>x</b>'),
        insertAdjacentHTML: () => element.insertAdjacentHTML('beforeend', '<b>x</b>'),
        write: () => document.write('<b>x</b>'),
        DOMParser: () => new DOMParser().parseFromString('<b>x</b>', 'text/html'),
        fragment: () => document.createRange().createContextualFragment('<b>x</b>'),
        srcdoc: () => (document.createElement('iframe').srcdoc = '<b>x</b>'),
        script: () => (document.createElement('script').src = 'head.js'),
        worker: () => new Worker('head.js'),
        handler: () => element.setAttribute('onclick', 'globalThis.ran = true'),
        code: () => globalThis.eval('globalThis.ran = true'),
        later: () => setTimeout('globalThis.ran = true'),
        policy: () => /** @type {any} */ (globalThis).trustedTypes.createPolicy('other', {createHTML: (/** @type {string} */ text) => text}),
        again: () => /** @type {any} */ (globalThis).trustedTypes.createPolicy('tawny-script', {createScriptURL: (/** @type {string} */ text) => text}),
      };
      return Object.entries(attempts).flatMap(([name, attempt]) => {
        try {
          attempt();
          return [name];
        } catch {
          return [];
        }
      });
    });
    assert.deepEqual(outcomes, [], 'these were let through');
    assert.equal(await phone.page.evaluate(() => globalThis.ran), undefined);
    assert.ok((await takeRefusals(phone.page)).length > 0);
    await phone.page.context().close();
  });
});

test('a record that holds more than a record shows as text, and does nothing', async () => {
  const phone = await open('?demo');
  const [tab] = await Promise.all([
    phone.context.waitForEvent('page'),
    phone.page.evaluate((/** @type {string} */ origin) => {
      const bad = `<!doctype html><html lang="en"><head><title>t</title><style>h1 { background: url(${origin}/style) }</style></head>
        <body><main id="report" onclick="ran = 1" style="background: url(${origin}/attribute)">
        <h1 class="what">Pond <script>ran = 1</script><img src="${origin}/img" onerror="ran = 1"></h1>
        <svg viewBox="0 0 1 1"><use href="${origin}/use"/><a href="javascript:ran = 1"><text>drawn</text></a>
        <rect fill="url(${origin}/paint)" width="1" height="1"/><foreignObject><p>foreign</p></foreignObject>
        <image href="${origin}/image"/><animate onbegin="ran = 1"/><script>ran = 1</script></svg>
        <a href="${origin}/a" ping="${origin}/ping">a link</a><iframe src="${origin}/frame"></iframe>
        <form action="${origin}/form"><input name="x"><button>send</button></form><base href="${origin}/">
        <meta http-equiv="refresh" content="0;url=${origin}/meta"><object data="${origin}/object"></object>
        <template><p>t</p></template><math><mi href="${origin}/math">x</mi></math><link rel="stylesheet" href="${origin}/link">
        <p lang="vi">Ao <strong>nước</strong></p></main></body></html>`;
      globalThis.tawnyHost.showReport('bad.html', bad);
    }, elsewhere.origin),
  ]);
  await tab.locator('main#report h1').waitFor();
  const shown = await tab.evaluate(() => {
    const main = document.querySelector('main#report');
    const parts = [main, ...main.querySelectorAll('*')];
    return {
      elements: [...new Set(parts.map(({localName}) => localName))].sort(),
      attributes: [...new Set(parts.flatMap((part) => part.getAttributeNames()))].sort(),
      text: main.textContent,
      lang: main.querySelector('p').lang,
      ran: globalThis.ran,
    };
  });
  assert.deepEqual(shown.elements, ['h1', 'main', 'p', 'rect', 'strong', 'svg']);
  assert.deepEqual(shown.attributes, ['class', 'height', 'id', 'lang', 'viewBox', 'width']);
  for (const text of ['Pond', 'drawn', 'foreign', 'a link', 'send', 'Ao nước']) assert.ok(shown.text.includes(text), text);
  assert.equal(shown.lang, 'vi');
  assert.equal(shown.ran, undefined);
  assert.deepEqual(elsewhere.asked, []);
  // The parser itself refuses some of it.
  await takeRefusals(phone.page);
  await phone.page.context().close();
});

describe('the office\'s folder', () => {
  test('is an origin word for word, or none', () => {
    const folder = (/** @type {string} */ address) => originOf({kind: 'webdav', address});
    const good = {
      'https://office.example/depot/': 'https://office.example',
      ' https://ana:x@Office.Example:443/depot?a#b': 'https://office.example',
      'https://office.example:8443': 'https://office.example:8443',
      'https://192.0.2.7/depot/': 'https://192.0.2.7',
      'https://fünf.example/': 'https://xn--fnf-hoa.example',
      'http://localhost:8080/depot/': 'http://localhost:8080',
      'http://127.0.0.1/depot/': 'http://127.0.0.1',
    };
    for (const [address, origin] of Object.entries(good)) assert.equal(folder(address), origin, address);
    const bad = ['', 'depot', 'office.example', 'http://office.example/', 'ftp://office.example/', 'javascript:alert(1)',
      'data:text/html,x', 'https://*/', 'https://*.example/', "https://a;script-src'self'/", 'https://a,b/', 'https://a;b/',
      "https://'self'/", 'https://[2001:db8::1]/', 'http://localhost.example/', 'blob:https://office.example/x', 'https://a&b/'];
    for (const address of bad) assert.equal(folder(address), '', address);
    const bucket = (/** @type {object} */ more) => originOf({kind: 's3', address: 'https://store.example/', bucket: 'tawny', ...more});
    assert.equal(bucket({style: 'path'}), 'https://store.example');
    assert.equal(bucket({style: 'host'}), 'https://tawny.store.example');
    assert.equal(bucket({style: 'host', bucket: '*'}), '');
  });

  test('that another server holds is asked once the page has started again for it, and no longer once it is forgotten', async () => {
    const office = await Elsewhere.start();
    const settings = {kind: 'webdav', address: `${office.origin}/depot/`, user: 'ana', password: 'of-ana'};
    const link = Buffer.from(JSON.stringify(settings)).toString('base64url');
    const phone = await open(`#depot=${link}`);
    const answer = () => phone.page.evaluate((/** @type {string} */ address) => fetch(address).then(({status}) => status, () => 'refused'), office.origin);
    await phone.node('depot/brought');
    assert.equal(await answer(), 'refused');
    assert.ok((await takeRefusals(phone.page)).length > 0);
    assert.deepEqual(office.asked, [], 'not before it is saved');

    const startsAgain = async (/** @type {string} */ control) => {
      const loaded = phone.page.waitForEvent('load');
      await phone.activate(control).catch(() => {});
      await loaded;
      await phone.started();
    };
    await startsAgain('save');
    await phone.node('sync/done');
    assert.ok(office.asked.some((asked) => asked.startsWith('PROPFIND /depot/')), office.asked.join());
    const kept = await phone.page.evaluate((/** @type {string[]} */ keys) =>
      keys.map((key) => localStorage.getItem(`tawny.setting.depot.${key}`)), Object.keys(settings));
    assert.deepEqual(kept, Object.values(settings));
    assert.equal(await answer(), 200);
    assert.deepEqual(await takeRefusals(phone.page), [], 'it may ask that one');
    await phone.page.evaluate((/** @type {string} */ other) => fetch(other).catch(() => {}), elsewhere.origin);
    assert.ok((await takeRefusals(phone.page)).length > 0, 'and no other');
    assert.deepEqual(elsewhere.asked, []);

    await phone.activate('sync/settings');
    await phone.node('depot/forget');
    await startsAgain('depot/forget');
    assert.equal(await answer(), 'refused');
    assert.ok((await takeRefusals(phone.page)).length > 0);
    await phone.page.context().close();
    await office.end();
  });
});
