/**
 * Carries out the steps of a sync that the program asks for (core/logbook/depot_run.h): one at a time, with the
 * settings of this device. What is carried and what follows from it, the program decides.
 */
import {carrierOf, CarryFault} from './carriers/carrier.js';
import {barredBy, depotSettings} from './reach.js';

/** @typedef {'list' | 'get' | 'put'} Act */
/** @typedef {{fault: string, detail: string, payload: string | Uint8Array}} Carried `fault` is empty when it went well */

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
      const settings = depotSettings();
      const carrier = carrierOf(/** @type {import('./carriers/carrier.js').Settings} */ (settings));
      const bar = barredBy(settings);
      if (bar) throw new CarryFault('barred', bar);
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
