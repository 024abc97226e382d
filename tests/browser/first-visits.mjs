/**
 * New phones that open the app for the first time, of every language and of several shapes.
 */
import {phoneSettings} from './harness.mjs';

const lying = {width: 844, height: 390};
const desk = {width: 1366, height: 768};

/** @type {Record<string, object>} settings of a Playwright context by name */
export const firstVisits = {
  'in English': {...phoneSettings, locale: 'en-GB'},
  'in Spanish, by night': {...phoneSettings, locale: 'es-EC', colorScheme: 'dark'},
  'in Indonesian, lying': {...phoneSettings, locale: 'id-ID', viewport: lying, screen: lying},
  'in Portuguese, at a desk': {
    locale: 'pt-BR',
    viewport: desk,
    screen: desk,
    deviceScaleFactor: 1,
    reducedMotion: 'reduce',
  },
  'in Vietnamese, on a small screen': {...phoneSettings, locale: 'vi-VN', viewport: {width: 320, height: 568}},
};

/**
 * The first screen stands, and has been looked at: turned once, left and come back to.
 * @param {import('playwright-core').Page} page
 */
export async function welcome(page) {
  await page.locator('#mirror [data-node]').first().waitFor({state: 'attached'});
  const settled = () => page.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
  await settled();
  const {width, height} = page.viewportSize();
  for (const size of [{width: height, height: width}, {width, height}]) {
    await page.setViewportSize(size);
    await settled();
  }
  await page.evaluate(() => {
    dispatchEvent(new Event('blur'));
    dispatchEvent(new Event('focus'));
  });
  await settled();
}
