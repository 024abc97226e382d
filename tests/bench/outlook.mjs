/**
 * What the forecasts cost, natively and as wasm in Chromium: node tests/bench/outlook.mjs NATIVE WASM [PONDS]
 *
 * NATIVE is the build folder of the native program, WASM that of the app; the target outlook_bench makes the program in
 * both. Needs the npm packages of tests/browser. Both print the same sum of
 * medians when both reckon the same.
 */
import {execFileSync} from 'node:child_process';
import {join} from 'node:path';
import {runInChromium} from './in-chromium.mjs';

const [native, wasm, ponds = '100'] = process.argv.slice(2);
if (!wasm) {
  console.error('Usage: node tests/bench/outlook.mjs NATIVE WASM [PONDS]');
  process.exit(2);
}
console.log('native');
console.log(execFileSync(join(native, 'tests', 'outlook_bench'), [ponds], {encoding: 'utf8'}));
console.log('wasm in Chromium');
await runInChromium(wasm, 'outlook_bench', [[ponds]]);
