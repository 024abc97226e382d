/**
 * Files that the person hands to the app: chosen, dropped on the page, or shared to it from another app. A file may be
 * packed with gzip.
 */
import {kMostBytes, kTooLarge, takeShared} from './shared.js';
import {say} from './words.js';

/** There is more of it than a logbook can be. */
class TooLarge extends Error {}

/** @typedef {(name: string, text: string) => void} OnFile */
/** @typedef {(text: string, urgent: boolean) => void} Announce */

/** @param {File | null | undefined} file @param {OnFile} onFile @param {Announce} announce */
async function read(file, onFile, announce) {
  if (!file) return;
  let text;
  try {
    text = await textOf(file);
  } catch (error) {
    announce(error instanceof TooLarge ? say('page.too_large') : say('page.unreadable_file'), true);
    return;
  }
  onFile(file.name.replace(/\.gz$/, ''), text);
}

/**
 * @param {File} file
 * @returns {Promise<string>} rejected when it is too large, packed or not, and when it cannot be read; of a large one
 *   no more than the first bytes are ever in memory
 */
export async function textOf(file) {
  if (file.size > kMostBytes) throw new TooLarge(file.name);
  const [first, second] = new Uint8Array(await file.slice(0, 2).arrayBuffer());
  // RFC 1952
  if (first !== 0x1f || second !== 0x8b) return file.text();
  const unpacked = file.stream().pipeThrough(new DecompressionStream('gzip'));
  const parts = [];
  let bytes = 0;
  const reader = unpacked.getReader();
  for (;;) {
    const {done, value} = await reader.read();
    if (done) break;
    bytes += value.length;
    // A few kilobytes may unpack to more than a phone has.
    if (bytes > kMostBytes) {
      await reader.cancel();
      throw new TooLarge(file.name);
    }
    parts.push(value);
  }
  return new Blob(parts).text();
}

/** What another app shared, when that is what started the page. @param {OnFile} onFile @param {Announce} announce */
export async function takeShares(onFile, announce) {
  const shared = await takeShared();
  if (shared === kTooLarge) {
    announce(say('page.too_large'), true);
  } else {
    void read(shared, onFile, announce);
  }
}

/** @param {OnFile} onFile @param {Announce} announce */
export function pickFile(onFile, announce) {
  const input = document.createElement('input');
  input.type = 'file';
  input.accept = '.txt,.jsonl,.gz,text/plain,application/gzip';
  input.hidden = true;
  input.addEventListener('change', () => {
    void read(input.files?.[0], onFile, announce);
    input.remove();
  });
  input.addEventListener('cancel', () => input.remove());
  document.body.append(input);
  input.click();
}

/** @param {OnFile} onFile @param {Announce} announce */
export function takeDrops(onFile, announce) {
  addEventListener('dragover', (event) => event.preventDefault());
  addEventListener('drop', (event) => {
    event.preventDefault();
    void read(event.dataTransfer?.files[0], onFile, announce);
  });
}
