/**
 * The program (C++ compiled to WebAssembly) as JavaScript calls it. The exported functions stand at the end of
 * wasm-shell/platform/bridge.cpp; a text crosses as pointer and length of UTF-8.
 */

import {ownScript} from './trusted.js';

/** File names of this build, set by build.mjs. */
const kScript = __TAWNY_SCRIPT__;
const kWasm = __TAWNY_WASM__;

const encoder = new TextEncoder();

/** The browser gave no drawing context. */
export class NoPicture extends Error {}

export class Program {
  /** @param {any} module */
  constructor(module) {
    this.module = module;
  }

  /**
   * Loads the program and lets it open its window on the canvas.
   * @param {HTMLCanvasElement} canvas @param {(reason: unknown) => void} onStop when the program broke
   * @returns {Promise<Program>} rejected when it cannot be loaded or cannot draw
   */
  static async load(canvas, onStop) {
    await new Promise((resolve, reject) => {
      const script = document.createElement('script');
      script.src = ownScript(kScript);
      script.addEventListener('load', resolve);
      script.addEventListener('error', () => reject(new Error(kScript)));
      document.head.append(script);
    });
    const module = await globalThis.createTawny({canvas, locateFile: () => kWasm, onAbort: onStop});
    const program = new Program(module);
    if (program.send('is_open') !== 1) throw new NoPicture();
    return program;
  }

  /**
   * Calls tawny_<name>; each text and each run of bytes becomes a pointer and a length.
   * @param {string} name @param {...(string | number | Uint8Array)} values @returns {number | undefined}
   */
  send(name, ...values) {
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
