/**
 * A phone for the tests: the built app served on this machine and opened in a real Chromium, touched through the
 * browser's own input, found by role and name in the mirror.
 *
 *   const phone = await Phone.start({query: '?demo', time: '2026-11-25T05:20:00+07:00'});
 *   await phone.tap('button', 'Read oxygen and pH');
 *   await phone.keys('5.2');
 *   await phone.waitFor('status', 'Saved');
 *   await phone.end();
 *
 * TAWNY_DIST names the folder that web/build.mjs wrote. Nothing here waits for a length of time, except where a
 * finger must rest before it lifts: that is what tells a drag from a throw.
 */
import {spawn} from 'node:child_process';
import {once} from 'node:events';
import {mkdtemp, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {chromium} from 'playwright-core';
import {serve} from '../../web/serve.mjs';

const executable = process.env.TAWNY_CHROMIUM ?? '/usr/bin/chromium';
export const browserFlags = [
  '--no-sandbox',
  '--disable-quic',
  '--disable-background-networking',
  '--use-gl=angle',
  '--use-angle=swiftshader',
  '--enable-unsafe-swiftshader',
];
const screen = {width: 390, height: 844};
const touchable = new Set(['button', 'tab', 'radio', 'checkbox', 'textfield']);
const kTopBar = 76;
const kFooterEdge = 12;
const kPatienceMs = 20_000;
const kRestMs = 150;
const kFramesToSettle = 8;

export function distFolder() {
  const dist = process.env.TAWNY_DIST;
  if (!dist) throw new Error('TAWNY_DIST must name the folder that web/build.mjs wrote');
  return dist;
}

/** What Chromium says when it refuses something for a Content-Security-Policy or for Trusted Types. */
const kRefusal = /Content Security Policy|Trusted(?:HTML|Script|ScriptURL)\b|TrustedTypePolicy|securitypolicyviolation/;

/**
 * The styles that Chromium itself puts into its report on XML it cannot parse. The page reads answers into documents
 * that are never shown, and its policy holds for these too.
 */
const kOwnReport = /'sha256-(ICa0DhwZQJsOd\/Rn0N8H6FdQ71GfNL\+op2zhAQ\+Y4mM|ZD0chCyBaNHl\+4UwQHJIHGoYhKwMeyCXGgJTKW5\/67E)='/;

/** Gathers what pages of this context are refused. @param {any} context @param {string[]} refusals */
async function watchRefusals(context, refusals) {
  context.on('console', (message) => {
    const text = message.text();
    if (kRefusal.test(text) && !kOwnReport.test(text)) refusals.push(text);
  });
  // Of a style in an attribute Chromium says more on the console than the event does: its hash.
  await context.addInitScript(() =>
    addEventListener('securitypolicyviolation', ({effectiveDirective, blockedURI}) => {
      if (effectiveDirective === 'style-src-attr') return;
      console.error(`securitypolicyviolation: ${effectiveDirective}, ${blockedURI}`);
    }),
  );
}

/** Fails when a page was refused something; a test that wants a refusal takes it out of the list. @param {string[]} refusals */
function mustBeNone(refusals) {
  if (refusals.length > 0) throw new Error(`refused by the page's policy:\n  ${refusals.join('\n  ')}`);
}

/**
 * A browser whose `close` fails when any page in it was refused something by its policy: `refusals` holds what.
 * @param {string[]} more further flags of the browser
 */
export async function launch(more = []) {
  const browser = await chromium.launch({executablePath: executable, args: [...browserFlags, ...more]});
  /** @type {string[]} */
  const refusals = [];
  const {newContext, close} = browser;
  return Object.assign(browser, {
    refusals,
    async newContext(/** @type {any[]} */ ...settings) {
      const context = await newContext.apply(browser, settings);
      await watchRefusals(context, refusals);
      return context;
    },
    async close() {
      await close.call(browser);
      mustBeNone(refusals);
    },
  });
}

/**
 * Does each in turn, whatever became of the one before, and then fails as the first that failed: a server that goes on
 * would keep the whole run waiting. @param {...(() => unknown)} ends
 */
export async function endAll(...ends) {
  const failed = [];
  for (const end of ends) {
    try {
      await end();
    } catch (error) {
      failed.push(error);
    }
  }
  if (failed.length > 0) throw failed[0];
}

/** The settings of a cheap Android phone. */
export const phoneSettings = {
  viewport: screen,
  screen,
  deviceScaleFactor: 2,
  hasTouch: true,
  isMobile: true,
  locale: 'en-GB',
  acceptDownloads: true,
};

/** Moves the page's clock: it goes on from `time`, through reloads too, until it is moved again. */
function clockScript(/** @type {number | null} */ first) {
  const RealDate = Date;
  const kept = sessionStorage.getItem('test.clock');
  let ahead = kept !== null ? Number(kept) : first === null ? 0 : first - RealDate.now();
  const moved = () => RealDate.now() + ahead;
  globalThis.Date = class extends RealDate {
    constructor(...parts) {
      if (parts.length === 0) {
        super(moved());
      } else {
        super(...parts);
      }
    }
    static now() {
      return moved();
    }
  };
  globalThis.setTestClock = (time) => {
    ahead = time - RealDate.now();
    sessionStorage.setItem('test.clock', String(ahead));
  };
  if (kept === null) sessionStorage.setItem('test.clock', String(ahead));
}

export class Phone {
  /** @param {{browser: any, context: any, page: any, server: any, errors: string[]}} parts */
  constructor(parts) {
    Object.assign(this, parts);
    /** Ids of nodes that do not scroll. @type {Set<string>} */
    this.fixed = new Set();
  }

  /**
   * @param {{query?: string, time?: string, timezone?: string, dist?: string, settings?: object,
   *          server?: Awaited<ReturnType<typeof serve>>, context?: any, keyless?: boolean}} [options]
   *   `keyless`: this browser makes no keys, so a farm that is founded in it believes every phone;
   *   `context`: one more tab of a browser that is there already; `server`: one that the test stops by itself
   */
  static async start(options = {}) {
    const server = options.server ?? (await serve({dir: options.dist ?? distFolder()}));
    const browser = options.context ? undefined : await launch();
    const context =
      options.context ??
      (await browser.newContext({...phoneSettings, timezoneId: options.timezone ?? 'UTC', ...options.settings}));
    const page = await context.newPage();
    page.setDefaultTimeout(kPatienceMs);
    const errors = [];
    page.on('pageerror', (error) => errors.push(String(error)));
    page.on('console', (message) => message.type() === 'error' && errors.push(message.text()));
    if (options.keyless) await page.addInitScript(() => Object.defineProperty(crypto, 'subtle', {value: undefined}));
    await page.addInitScript(clockScript, options.time ? Date.parse(options.time) : null);
    const phone = new Phone({browser, context, page, server, errors, ownsServer: !options.server});
    await page.goto(server.url + (options.query ?? ''));
    await phone.started();
    return phone;
  }

  /** The program runs, whole, and has drawn its first screen. */
  async started() {
    await this.page.locator('#splash').waitFor({state: 'detached'});
    await this.page.locator('#coming').waitFor({state: 'detached'});
    await this.page.locator('#mirror [data-node]').first().waitFor({state: 'attached'});
  }

  async end() {
    await this.page.close();
    await this.browser?.close();
    if (this.ownsServer) await this.server.close();
  }

  /** @param {string} iso */
  async setTime(iso) {
    await this.page.evaluate((time) => globalThis.setTestClock(time), Date.parse(iso));
    await this.page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
    await this.settle();
  }

  async reload() {
    await this.page.reload();
    await this.started();
  }

  /** Whether the service worker holds every file: it says so itself. */
  offlineReady() {
    return this.page.evaluate(async () => {
      const {active} = await navigator.serviceWorker.ready;
      const {port1, port2} = new MessageChannel();
      active?.postMessage({ask: 'complete'}, [port2]);
      return new Promise((resolve) => {
        port1.onmessage = ({data}) => resolve(data);
      });
    });
  }

  /** Waits until what was touched has been drawn: some frames, not some time. */
  settle() {
    return this.page.evaluate(
      (frames) =>
        new Promise((done) => {
          const next = () => (--frames > 0 ? requestAnimationFrame(next) : done(undefined));
          requestAnimationFrame(next);
        }),
      kFramesToSettle,
    );
  }

  /** Every node of the present screen, as the mirror has it. */
  nodes() {
    return this.page.evaluate(() =>
      [...document.querySelectorAll('#mirror [data-node]')].map((element) => {
        const {x, y, width, height} = element.getBoundingClientRect();
        const {node, role, name, value, state} = element.dataset;
        return {id: node, role, name, value, state, rect: {x, y, width, height}};
      }),
    );
  }

  /** The node of that role whose name is `name`, else the first whose name starts so; undefined when there is none. */
  async look(/** @type {string} */ role, /** @type {string} */ name) {
    const nodes = (await this.nodes()).filter((node) => node.role === role);
    return nodes.find((node) => node.name === name) ?? nodes.find((node) => node.name.startsWith(name));
  }

  /** Waits for it. @param {string} role @param {string} name */
  async find(role, name) {
    await this.waitFor(role, name);
    return this.look(role, name);
  }

  /** Waits for the node of that id. @param {string} id */
  async node(id) {
    try {
      await this.page.locator(`#mirror [data-node=${JSON.stringify(id)}]`).waitFor({state: 'attached'});
    } catch (error) {
      const there = (await this.nodes()).map((node) => `${node.id} "${node.name}"`).join('\n  ');
      throw new Error(`no ${id} on the screen:\n  ${there}`, {cause: error});
    }
    return (await this.nodes()).find((node) => node.id === id);
  }

  /** @param {string} role @param {string} name start of the name @param {'attached' | 'detached'} [state] */
  async waitFor(role, name, state = 'attached') {
    const selector = `#mirror [data-role="${role}"][data-name^=${JSON.stringify(name)}]`;
    try {
      await this.page.locator(selector).first().waitFor({state});
    } catch (error) {
      const there = (await this.nodes()).map((node) => `${node.role} "${node.name}" ${node.value}`).join('\n  ');
      throw new Error(`${state === 'attached' ? 'no' : 'still'} ${role} "${name}" on the screen:\n  ${there}`, {
        cause: error,
      });
    }
  }

  /** Whether a node of that id is on the screen now. @param {string} id */
  present(id) {
    return this.page.evaluate((node) => document.querySelector(`#mirror [data-node=${JSON.stringify(node)}]`) !== null, id);
  }

  /** Waits for it to be gone. @param {string} role @param {string} name */
  waitUntilGone(role, name) {
    return this.waitFor(role, name, 'detached');
  }

  /** A finger on the canvas, in the middle of the node. @param {string} role @param {string} name */
  async tap(role, name) {
    await this.touch(await this.bringIntoView(role, name));
  }

  /** The same, by the node's id: where many have one name. @param {string} id */
  async tapNode(id) {
    await this.touch(await this.scrollTo(() => this.node(id)));
  }

  /** As a keyboard or a screen reader does it: through the mirror. @param {string} id */
  async activate(id) {
    try {
      await this.page.locator(`#mirror [data-node=${JSON.stringify(id)}]`).dispatchEvent('click');
    } catch (error) {
      const there = (await this.nodes()).map((node) => node.id).join(' ');
      throw new Error(`no ${id} on the screen, but ${there}`, {cause: error});
    }
    await this.settle();
  }

  /** Touches what starts the page anew. @param {string} role @param {string} name */
  async tapAndRestart(role, name) {
    const {rect} = await this.bringIntoView(role, name);
    const loaded = this.page.waitForEvent('load');
    await this.page.touchscreen.tap(rect.x + rect.width / 2, rect.y + rect.height / 2);
    await loaded;
    await this.started();
  }

  /** @param {{rect: {x: number, y: number, width: number, height: number}}} node one that is in view */
  async touch({rect: {x, y, width, height}}) {
    await this.page.touchscreen.tap(x + width / 2, y + height / 2);
    await this.settle();
  }

  /** The app's own number keys. @param {string} digits such as "7.25"; "<" takes the last one back */
  async keys(digits) {
    const parts = {'.': 'mark', '-': 'sign', '<': 'delete'};
    for (const digit of digits) {
      const key = (await this.nodes()).find(({id}) => id.endsWith(`keys/${parts[digit] ?? digit}`));
      if (!key) throw new Error(`no key ${digit} on the screen`);
      await this.touch(key);
    }
  }

  /** Types into a text field through the entry bar. @param {string} field @param {string} text */
  async type(field, text) {
    await this.tap('textfield', field);
    const input = this.page.locator('#entry-bar-input');
    await input.fill(text);
    await input.press('Enter');
    await this.settle();
  }

  /** Drags the screen until the node's middle is free to be touched. @param {string} role @param {string} name */
  bringIntoView(role, name) {
    return this.scrollTo(() => this.find(role, name));
  }

  async scrollTo(/** @type {() => Promise<any>} */ find) {
    const {width, height} = this.page.viewportSize() ?? screen;
    let node = await find();
    for (let tries = 0; tries < 30; ++tries) {
      const stays = node.role === 'tab' || node.id === 'back' || this.fixed.has(node.id);
      if (this.isInside(node) && (stays || (await this.isFree(node)))) return node;
      const before = node.rect.y;
      const wanted = height / 2 - (before + node.rect.height / 2);
      // Long strokes are for long lists, which have no keys under the finger.
      const most = height * (Math.abs(wanted) > height ? 0.6 : 0.3);
      const way = Math.max(-most, Math.min(most, wanted));
      await this.drag(width - 12, height / 2 - way / 2, Math.abs(way) < 40 ? 40 * Math.sign(way) : way);
      node = await find();
      // What a drag does not move stands outside the scrolling part, over what scrolls beneath it.
      if (node.rect.y === before) this.fixed.add(node.id);
    }
    throw new Error(`${node.role} "${node.name}" cannot be brought into view`);
  }

  /** Its middle is on the screen. @param {any} node */
  isInside({rect}) {
    const x = rect.x + rect.width / 2;
    const y = rect.y + rect.height / 2;
    const {width, height} = this.page.viewportSize() ?? screen;
    return x >= 0 && x <= width && y >= 0 && y <= height;
  }

  /** No other node is over its middle. @param {any} node */
  async isFree(node) {
    /** @param {any} outer @param {any} inner */
    const holds = (outer, inner) =>
      inner.x >= outer.x - 1 &&
      inner.y >= outer.y - 1 &&
      inner.x + inner.width <= outer.x + outer.width + 1 &&
      inner.y + inner.height <= outer.y + outer.height + 1;
    const x = node.rect.x + node.rect.width / 2;
    const y = node.rect.y + node.rect.height / 2;
    // The bar on top hides what is scrolled beneath it, and has no node as wide as itself.
    if (y < kTopBar) return false;
    // A footer reaches a little beyond its buttons.
    const margin = {x: x - kFooterEdge, y: y - kFooterEdge, width: 2 * kFooterEdge, height: 2 * kFooterEdge};
    const isOver = (/** @type {any} */ {rect}) =>
      rect.x < margin.x + margin.width &&
      margin.x < rect.x + rect.width &&
      rect.y < margin.y + margin.height &&
      margin.y < rect.y + rect.height;
    const isPart = (/** @type {any} */ {role, rect}) => !touchable.has(role) && holds(node.rect, rect);
    const nodes = await this.nodes();
    const at = nodes.findIndex(({id}) => id === node.id);
    // A card stands before what it holds; what comes later and covers it is a footer.
    return nodes.every(
      (other, i) =>
        other.id === node.id || !isOver(other) || (i < at && holds(other.rect, node.rect)) || isPart(other),
    );
  }

  /** One finger, slowly, resting before it lifts. @param {number} x @param {number} y @param {number} way down is positive */
  async drag(x, y, way) {
    const touch = await this.context.newCDPSession(this.page);
    const at = (/** @type {number} */ height) => [{x, y: height}];
    await touch.send('Input.dispatchTouchEvent', {type: 'touchStart', touchPoints: at(y)});
    const steps = 8;
    for (let step = 1; step <= steps; ++step) {
      await touch.send('Input.dispatchTouchEvent', {type: 'touchMove', touchPoints: at(y + (way * step) / steps)});
      await this.page.evaluate(() => new Promise(requestAnimationFrame));
    }
    await new Promise((rested) => setTimeout(rested, kRestMs));
    await touch.send('Input.dispatchTouchEvent', {type: 'touchEnd', touchPoints: []});
    await this.settle();
    await touch.detach();
  }

  /** @param {string} path */
  screenshot(path) {
    return this.page.screenshot({path});
  }
}

/** A Chromium with a profile on disk that a test can kill in the middle of anything. */
export class KillableBrowser {
  /**
   * @param {{profile?: string, under?: string[]}} [options] `profile`: of one that was killed before, to see what is
   *   left; `under`: a command that runs it
   */
  static async start({profile, under = []} = {}) {
    const killable = new KillableBrowser();
    killable.profile = profile ?? (await mkdtemp(join(tmpdir(), 'tawny-profile-')));
    const [command, ...first] = [...under, executable];
    killable.process = spawn(
      command,
      [
        ...first,
        ...browserFlags,
        '--headless=new',
        '--remote-debugging-port=0',
        '--no-first-run',
        `--user-data-dir=${killable.profile}`,
        'about:blank',
      ],
      // A group of its own, so that all of its processes go at once.
      {detached: true, stdio: ['ignore', 'ignore', 'pipe']},
    );
    const address = await new Promise((found, lost) => {
      let said = '';
      killable.process.stderr.on('data', (data) => {
        said += data;
        const match = /DevTools listening on (ws:\S+)/.exec(said);
        if (match) found(match[1]);
      });
      killable.process.on('exit', () => lost(new Error(`Chromium ended: ${said}`)));
    });
    killable.browser = await chromium.connectOverCDP(address);
    [killable.context] = killable.browser.contexts();
    killable.refusals = [];
    await watchRefusals(killable.context, killable.refusals);
    return killable;
  }

  /** SIGKILL, as a phone out of battery; gives the profile. */
  async kill() {
    const gone = once(this.process, 'exit');
    process.kill(-this.process.pid, 'SIGKILL');
    await gone;
    return this.profile;
  }

  async end() {
    if (this.process.exitCode === null && this.process.signalCode === null) await this.kill();
    await rm(this.profile, {recursive: true, force: true, maxRetries: 5, retryDelay: 100});
    mustBeNone(this.refusals);
  }
}
