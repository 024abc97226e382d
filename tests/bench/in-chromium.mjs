/**
 * A program of the wasm build run in Chromium, each run in a page of its own.
 */
import {copyFile, mkdtemp, rm, symlink, writeFile} from 'node:fs/promises';
import {tmpdir} from 'node:os';
import {join, resolve} from 'node:path';
import {launch} from '../browser/harness.mjs';
import {serve} from '../../web/serve.mjs';

/** @param {string} program @param {boolean} reads */
const page = (program, reads) => `<!doctype html><title>${program}</title><script>
  globalThis.said = new Promise((done) => {
    const lines = [];
    globalThis.Module = {
      arguments: JSON.parse(decodeURIComponent(location.hash.slice(1))),
      preRun: ${reads} ? [() => {
        Module.addRunDependency('file');
        fetch('file').then((answer) => answer.arrayBuffer()).then((bytes) => {
          FS.writeFile('/file', new Uint8Array(bytes));
          Module.removeRunDependency('file');
        });
      }] : [],
      print: (line) => lines.push(line),
      onExit: () => done(lines.join('\\n')),
      onAbort: (why) => done('it broke off: ' + why),
    };
    addEventListener('error', () => done('it did not start'), true);
  });
</script><script src="${program}.js"></script>`;

/**
 * What it prints, run by run.
 * @param {string} wasm the app's build folder @param {string} program @param {string[][]} runs words of each
 * @param {string} [file] which it finds as /file
 */
export async function runInChromium(wasm, program, runs, file) {
  const dir = await mkdtemp(join(tmpdir(), `${program}-`));
  for (const end of ['js', 'wasm']) await copyFile(join(wasm, 'tests', `${program}.${end}`), join(dir, `${program}.${end}`));
  if (file) await symlink(resolve(file), join(dir, 'file'));
  await writeFile(join(dir, 'index.html'), page(program, file !== undefined));
  const server = await serve({dir});
  const browser = await launch();
  try {
    for (const words of runs) {
      const tab = await browser.newPage();
      await tab.goto(`${server.url}#${encodeURIComponent(JSON.stringify(words))}`);
      console.log(await tab.evaluate(() => globalThis.said));
      await tab.close();
    }
  } finally {
    await browser.close();
    await server.close();
    await rm(dir, {recursive: true});
  }
}
