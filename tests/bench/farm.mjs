/**
 * From a file of lines to the states of its ponds as wasm in Chromium: node tests/bench/farm.mjs WASM FILE SIZE...
 *
 * WASM is the build folder of the wasm tests (emcmake, -DTAWNY_WASM_TESTS=ON) with the target farm_bench made. Prints
 * what farm_bench prints (tests/bench/farm_bench_main.cpp), each size in a page of its own. Needs the npm packages of
 * tests/browser.
 */
import {runInChromium} from './in-chromium.mjs';

const [wasm, file, ...sizes] = process.argv.slice(2);
if (sizes.length === 0) {
  console.error('Usage: node tests/bench/farm.mjs WASM FILE SIZE...');
  process.exit(2);
}
await runInChromium(wasm, 'farm_bench', sizes.map((size) => ['/file', size]), file);
