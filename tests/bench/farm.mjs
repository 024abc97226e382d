/**
 * From a file of lines to the states of its ponds as wasm in Chromium: node tests/bench/farm.mjs WASM FILE SIZE...
 *
 * WASM is the app's build folder with the target farm_bench made. Prints what farm_bench prints
 * (tests/bench/farm_bench_main.cpp), each size in a page of its own. Needs the npm packages of tests/browser.
 */
import {createReadStream, createWriteStream} from 'node:fs';
import {mkdtemp, rm} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join} from 'node:path';
import {pipeline} from 'node:stream/promises';
import {runInChromium} from './in-chromium.mjs';

const [wasm, file, ...sizes] = process.argv.slice(2);
if (sizes.length === 0) {
  console.error('Usage: node tests/bench/farm.mjs WASM FILE SIZE...');
  process.exit(2);
}
/** As many lines of it, and no more: a page need not hold those that it does not read. @param {number} size @param {string} to */
async function cut(size, to) {
  const lineFeed = 10;
  let left = size;
  await pipeline(
    createReadStream(file),
    async function* (chunks) {
      for await (const chunk of chunks) {
        let end = 0;
        while (left > 0 && end < chunk.length) {
          const at = chunk.indexOf(lineFeed, end);
          end = at < 0 ? chunk.length : at + 1;
          if (at >= 0) left -= 1;
        }
        yield chunk.subarray(0, end);
        if (left === 0) return;
      }
    },
    createWriteStream(to),
  );
}

const dir = await mkdtemp(join(tmpdir(), 'tawny-bench-farm-'));
try {
  for (const size of sizes) {
    const lines = join(dir, size);
    await cut(Number(size), lines);
    await runInChromium(wasm, 'farm_bench', [['/file', size]], lines);
    await rm(lines);
  }
} finally {
  await rm(dir, {recursive: true});
}
