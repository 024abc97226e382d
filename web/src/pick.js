/**
 * Files that the person hands to the app: chosen, or dropped on the page.
 */
import {say} from './words.js';

const kMaxBytes = 64 * 1024 * 1024;

/** @typedef {(name: string, text: string) => void} OnFile */
/** @typedef {(text: string, urgent: boolean) => void} Announce */

/** @param {File | null | undefined} file @param {OnFile} onFile @param {Announce} announce */
async function read(file, onFile, announce) {
  if (!file) return;
  if (file.size > kMaxBytes) {
    announce(say('page.too_large'), true);
    return;
  }
  onFile(file.name, await file.text());
}

/** @param {OnFile} onFile @param {Announce} announce */
export function pickFile(onFile, announce) {
  const input = document.createElement('input');
  input.type = 'file';
  input.accept = '.txt,.jsonl,text/plain';
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
