/**
 * Hands a text file to the person: through the share sheet where files can be shared (an app on an iPhone's home
 * screen has no downloads), else as a download.
 *
 * @param {string} name of the file
 * @param {string} text
 * @returns {Promise<boolean>} it went its way; false when the person changed their mind
 */
export async function shareFile(name, text) {
  const file = new File([text], name, {type: name.endsWith('.csv') ? 'text/csv' : 'text/plain'});
  // Browsers agree to share few endings; these are two of them.
  const shared = /\.(txt|csv)$/.test(name) ? file : new File([text], `${name}.txt`, {type: 'text/plain'});
  const toShare = {files: [shared], title: name};
  if (!isTouchDevice() || !navigator.canShare?.(toShare)) {
    download(await packed(file));
    return true;
  }
  try {
    await navigator.share(toShare);
    return true;
  } catch (error) {
    const reason = error instanceof DOMException ? error.name : '';
    // The tap was too long ago for this browser: the next one, wherever it is, will do.
    if (reason === 'NotAllowedError') {
      return new Promise((went) => {
        const again = () =>
          navigator.share(toShare).then(
            () => went(true),
            () => {
              download(file);
              went(true);
            },
          );
        addEventListener('pointerup', again, {once: true});
      });
    }
    if (reason === 'AbortError') return false;
    download(file);
    return true;
  }
}

// Smaller files are not worth a format that a text editor does not open.
const kPackFromBytes = 1_000_000;

/** @param {File} file @returns {Promise<File>} packed with gzip where it is large and the browser can */
async function packed(file) {
  if (!file.name.endsWith('.txt') || file.size < kPackFromBytes || !('CompressionStream' in globalThis)) return file;
  const stream = file.stream().pipeThrough(new CompressionStream('gzip'));
  return new File([await new Response(stream).blob()], `${file.name}.gz`, {type: 'application/gzip'});
}

const isTouchDevice = () => matchMedia('(pointer: coarse)').matches;

/** @param {File} file */
export function download(file) {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  // The browser reads the address when it likes; a minute is long enough for any of them.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
