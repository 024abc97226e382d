/**
 * A page in a real Chromium with the carriers in it, driven from a test.
 */
import {launch} from '../browser/harness.mjs';

export class CarrierPages {
  /** @param {string[]} [flags] */
  static async start(flags) {
    const pages = new CarrierPages();
    pages.browser = await launch(flags);
    return pages;
  }

  /** @param {string} url @param {object} [settings] of the context */
  async open(url, settings) {
    const context = await this.browser.newContext({ignoreHTTPSErrors: true, ...settings});
    const page = await context.newPage();
    await page.goto(url);
    return page;
  }

  end() {
    return this.browser.close();
  }
}

/**
 * Does one thing through a carrier in the page: the answer, or `{fault, detail}`. Bytes go and come as text.
 * @param {import('playwright-core').Page} page
 * @param {object} settings @param {'list' | 'get' | 'put'} act @param {string} name
 * @param {{text?: string, patienceMs?: number, aheadMs?: number, abortAfterMs?: number}} [more]
 */
export function carry(page, settings, act, name, more = {}) {
  return page.evaluate(
    async ([settings, act, name, {text = '', patienceMs, aheadMs = 0, abortAfterMs}]) => {
      const {carrierOf, CarryFault} = globalThis.page;
      try {
        const carrier = carrierOf(settings, {patienceMs, now: () => Date.now() + aheadMs});
        const ending = new AbortController();
        if (abortAfterMs !== undefined) setTimeout(() => ending.abort(), abortAfterMs);
        if (act === 'put') {
          await carrier.put(name, new TextEncoder().encode(text), ending.signal);
          return 'put';
        }
        const answer = await carrier[act](name, ending.signal);
        return act === 'get' ? new TextDecoder().decode(answer) : answer.sort();
      } catch (error) {
        if (error instanceof CarryFault) return {fault: error.fault, detail: error.detail};
        throw error;
      }
    },
    [settings, act, name, more],
  );
}
