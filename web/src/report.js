/**
 * The tab that shows a report: print it, or take it out as one file. What the report holds is data: its <main> is parsed
 * where no script runs, and a copy of it made of harmless parts.
 */
import {inertCopy} from './inert.js';
import {takeReport} from './report-kept.js';
import {download} from './share.js';
import {parsed} from './trusted.js';

/** @type {Record<string, Record<string, string>>} */
const kWords = __TAWNY_REPORT_WORDS__;
const kPatienceMs = 10_000;

/** @param {string} id */
const element = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

const file = await takeReport(location.hash.slice(1), kPatienceMs);
// Its own style sheet is the one that this page links; an inline one is refused here.
const text = (await file?.text())?.replace(/<style>[^]*?<\/style>/, '');
const report = text === undefined ? undefined : parsed(text, 'text/html');
const language = report?.documentElement.lang ?? document.documentElement.lang;
const say = (/** @type {string} */ id) => (kWords[language] ?? kWords.en)[id];
document.documentElement.lang = language;

/** At the head of each printed page, where the browser can. @param {string} text */
function showRunningHead(text) {
  if (!('replaceSync' in CSSStyleSheet.prototype)) return;
  const sheet = new CSSStyleSheet();
  sheet.replaceSync(`@page { @top-left { content: ${JSON.stringify(text)}; } }`);
  document.adoptedStyleSheets = [sheet];
}

/** @param {string} id @param {string} word @param {() => void} act @param {boolean} enabled */
function key(id, word, act, enabled) {
  const button = /** @type {HTMLButtonElement} */ (element(id));
  button.textContent = word;
  button.disabled = !enabled;
  button.addEventListener('click', act);
}

key('print', say('page.report.print'), () => print(), file !== undefined);
key('save', say('page.report.save'), () => file && download(file), file !== undefined);
key('close', say('page.report.close'), () => close(), true);
const main = report?.querySelector('main');
if (report && main) {
  document.title = report.title;
  showRunningHead(main.dataset.runningHead ?? '');
  element('report').replaceWith(inertCopy(main));
} else {
  element('report').textContent = say('page.report.gone');
}
