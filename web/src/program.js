/**
 * The program (C++ compiled to WebAssembly) as JavaScript calls it. The exported functions stand at the end of
 * wasm-shell/platform/bridge.cpp; a text crosses as pointer and length of UTF-8.
 *
 * It comes in two parts (wasm-shell/tools/split.py). The first holds what a phone without a farm needs to show its first
 * screen; who waits for no more than that sees it after a third of the bytes. The second puts its functions into the
 * first one's table. What is sent meanwhile is kept and done, in its order, once both are there.
 */

import {ownScript} from './trusted.js';

/** File names of this build, set by build.mjs. */
const kScript = __TAWNY_SCRIPT__;
const kFirst = __TAWNY_FIRST__;
const kRest = __TAWNY_REST__;

/** What the first part can answer for. */
const kEarly = new Set(['is_open', 'words', 'start', 'ready', 'insets', 'reduced_motion']);

const encoder = new TextEncoder();

/** The browser gave no drawing context. */
export class NoPicture extends Error {}

/** Something in the first part asked for what is in the second, which was not there yet. */
export class PartMissing extends Error {}

/** @param {string} name of a file of this build @returns {Promise<WebAssembly.Module>} */
async function compiled(name) {
  const response = await fetch(name);
  if (!response.ok) throw new Error(`${name}: ${response.status}`);
  // A server may give it another type, which the quicker way refuses.
  return response.headers.get('content-type') === 'application/wasm'
    ? WebAssembly.compileStreaming(response)
    : WebAssembly.compile(await response.arrayBuffer());
}

/** @param {string} name */
const loadScript = (name) =>
  new Promise((resolve, reject) => {
    const script = document.createElement('script');
    script.src = ownScript(name);
    script.addEventListener('load', resolve);
    script.addEventListener('error', () => reject(new Error(name)));
    document.head.append(script);
  });

const missing = () => {
  throw new PartMissing();
};
/** Stands in the first part's imports and table for each function of the second. */
const placeholders = new Proxy({}, {get: () => missing});

export class Program {
  /** Both parts are there. */
  isWhole = false;
  /** @type {any} */
  module;
  /** @type {WebAssembly.Instance} */
  #first;
  /** @type {Promise<WebAssembly.Module> | undefined} */
  #rest;
  /** @type {[string, (string | number | Uint8Array)[]][]} */
  #later = [];

  /**
   * Loads the program and lets it open its window on the canvas.
   * @param {HTMLCanvasElement} canvas @param {(reason: unknown) => void} onStop when the program broke
   * @param {boolean} whole false: begins with the first part alone, and `complete` brings the other
   * @returns {Promise<Program>} rejected when it cannot be loaded or cannot draw
   */
  static async load(canvas, onStop, whole) {
    const program = new Program();
    const first = compiled(kFirst);
    if (whole) program.#fetchRest();
    await Promise.all([loadScript(kScript), first]);
    program.module = await new Promise((resolve, reject) => {
      const instantiateWasm = (
        /** @type {WebAssembly.Imports} */ imports,
        /** @type {(instance: WebAssembly.Instance) => void} */ received,
      ) => {
        program.#join(imports, first).then(received, reject);
        return {};
      };
      globalThis.createTawny({canvas, instantiateWasm, onAbort: onStop}).then(resolve, reject);
    });
    if (program.send('is_open') !== 1) throw new NoPicture();
    return program;
  }

  /** @param {WebAssembly.Imports} imports @param {Promise<WebAssembly.Module>} first */
  async #join(imports, first) {
    this.#first = await WebAssembly.instantiate(await first, {...imports, placeholder: placeholders});
    if (this.#rest) await this.#addRest();
    return this.#first;
  }

  #fetchRest() {
    this.#rest = compiled(kRest);
    // Whoever waits for it says so.
    this.#rest.catch(() => {});
  }

  async #addRest() {
    await WebAssembly.instantiate(await this.#rest, {primary: this.#first.exports});
    this.isWhole = true;
  }

  /** Brings the second part, where it is not there yet, and does what was kept for it. Rejected when it cannot be loaded. */
  async complete() {
    if (this.isWhole) return;
    if (!this.#rest) this.#fetchRest();
    await this.#addRest();
    for (const [name, values] of this.#later.splice(0)) this.send(name, ...values);
  }

  /**
   * Calls tawny_<name>; each text and each run of bytes becomes a pointer and a length.
   * @param {string} name @param {...(string | number | Uint8Array)} values
   * @returns {number | undefined} nothing when it is kept for the second part
   */
  send(name, ...values) {
    if (!this.isWhole && !kEarly.has(name)) {
      this.#later.push([name, values]);
      return undefined;
    }
    /** @type {number[]} */
    const allocated = [];
    const plain = values.flatMap((value) => {
      if (typeof value === 'number') return [value];
      const bytes = typeof value === 'string' ? encoder.encode(value) : value;
      const pointer = this.module._tawny_alloc(bytes.length + 1);
      if (pointer === 0) throw new WebAssembly.RuntimeError('no more memory');
      allocated.push(pointer);
      this.module.HEAPU8.set(bytes, pointer);
      return [pointer, bytes.length];
    });
    const result = this.module[`_tawny_${name}`](...plain);
    for (const pointer of allocated) this.module._tawny_free(pointer);
    return result;
  }
}
