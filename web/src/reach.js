/**
 * What this page may ask: its own origin and that of the office's folder which this device has set up. A policy in the
 * page says so to the browser before any other script runs; it can be narrowed, never widened, so new settings take
 * effect when the page starts again.
 */
import {originOf, placeOf} from './carriers/origin.js';
import {allSettings} from './settings.js';

const kSettings = 'depot.';
const kMark = 'reach';

/** The settings of the office's folder as they stand now. @returns {Record<string, string>} */
export function depotSettings() {
  const all = Object.entries(allSettings()).filter(([key]) => key.startsWith(kSettings));
  return Object.fromEntries(all.map(([key, value]) => [key.slice(kSettings.length), value]));
}

/** The one that these settings need, beside the page's own. @param {Record<string, string>} settings */
function foreignOrigin(settings) {
  const origin = settings.kind ? originOf(settings) : '';
  return origin === location.origin ? '' : origin;
}

/** The origin that the policy allows beside the page's own; empty when there is none. Sets the policy the first time. */
export function reach() {
  const mark = /** @type {HTMLMetaElement | null} */ (document.head.querySelector(`meta[data-${kMark}]`));
  if (mark) return mark.dataset[kMark] ?? '';
  const origin = foreignOrigin(depotSettings());
  const policy = document.createElement('meta');
  policy.httpEquiv = 'Content-Security-Policy';
  // With a default of its own: what is fetched beforehand may go wherever any directive of a policy lets it.
  policy.content = `default-src 'self' 'wasm-unsafe-eval'; connect-src 'self' ${origin}`.trim();
  policy.dataset[kMark] = origin;
  document.head.append(policy);
  return origin;
}

/** Whether the settings, as they are kept, name another origin than the policy. */
export const mustStartAgain = () => foreignOrigin(depotSettings()) !== reach();

/**
 * Why the folder of these settings cannot be asked; undefined when it can. Throws a CarryFault when their address is none.
 * @param {Record<string, string>} settings
 */
export function barredBy(settings) {
  const {origin: own} = placeOf(/** @type {import('./carriers/carrier.js').Settings} */ (/** @type {unknown} */ (settings)));
  if (own === location.origin) return undefined;
  const origin = originOf(settings);
  if (origin === '') return `"${settings.address ?? ''}" is no address that this page may ask`;
  if (origin === reach()) return undefined;
  return `this page began with other settings: it has to start again before it asks ${origin}`;
}
