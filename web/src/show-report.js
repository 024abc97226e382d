/**
 * A report in a tab of its own, to be looked at, printed and filed. Where no tab can be opened (the tap was too long ago,
 * an app on a home screen), the report is handed over as a file.
 */
import {keepReport} from './report-kept.js';
import {shareFile} from './share.js';

/** @param {string} name of the file @param {string} html a whole document */
export async function showReport(name, html) {
  const file = new File([html], name, {type: 'text/html'});
  const id = [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  // In the same breath as the tap: a browser opens no tab later.
  const tab = 'caches' in globalThis ? open(`report.html#${id}`, '_blank') : null;
  try {
    if (!tab) throw new Error('no tab');
    await keepReport(id, file);
  } catch {
    tab?.close();
    await shareFile(name, html);
  }
}
