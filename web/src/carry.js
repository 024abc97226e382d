/**
 * Carries out the steps of a sync that the program asks for (core/logbook/depot_run.h): one at a time, with the
 * settings of this device. What is carried and what follows from it, the program decides.
 */
import {carrierOf, CarryFault} from './carriers/carrier.js';
import {allSettings} from './settings.js';

/** @typedef {'list' | 'get' | 'put'} Act */
/** @typedef {{fault: string, detail: string, payload: string | Uint8Array}} Carried `fault` is empty when it went well */

const kSettings = 'depot.';

/** The settings of the office's folder as they stand now. @returns {Record<string, string>} */
function depotSettings() {
  const all = Object.entries(allSettings()).filter(([key]) => key.startsWith(kSettings));
  return Object.fromEntries(all.map(([key, value]) => [key.slice(kSettings.length), value]));
}

export class Carrying {
  constructor() {
    /** @type {AbortController | undefined} */
    this.under_way = undefined;
  }

  /** @param {Act} act @param {string} name @param {Uint8Array} bytes @returns {Promise<Carried>} */
  async step(act, name, bytes) {
    const stopper = new AbortController();
    this.under_way = stopper;
    try {
      const carrier = carrierOf(depotSettings());
      if (act === 'list') return {fault: '', detail: '', payload: (await carrier.list(name, stopper.signal)).join('\n')};
      if (act === 'get') return {fault: '', detail: '', payload: await carrier.get(name, stopper.signal)};
      await carrier.put(name, bytes, stopper.signal);
      return {fault: '', detail: '', payload: ''};
    } catch (error) {
      if (error instanceof CarryFault) return {fault: error.fault, detail: error.detail, payload: ''};
      return {fault: 'malformed', detail: String(error), payload: ''};
    }
  }

  stop() {
    this.under_way?.abort();
  }
}
