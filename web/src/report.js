/**
 * The tab that shows a report: print it, or take it out as one file. What the report holds is data: only its <main> is
 * taken over, parsed where no script runs.
 */
import {takeReport} from './report-kept.js';
import {download} from './share.js';

/** @type {Record<string, Record<string, string>>} */
const kWords = __TAWNY_REPORT_WORDS__;
const kPatienceMs = 10_000;

/** @param {string} id */
const element = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

const file = await takeReport(location.hash.slice(1), kPatienceMs);
const report = file && new DOMParser().parseFromString(await file.text(), 'text/html');
const language = report?.documentElement.lang ?? document.documentElement.lang;
const say = (/** @type {string} */ id) => (kWords[language] ?? kWords.en)[id];
document.documentElement.lang = language;

for (const [id, word, act] of /** @type {const} */ ([
  ['print', 'page.report.print', () => print()],
  ['save', 'page.report.save', () => file && download(file)],
  ['close', 'page.report.close', () => close()],
])) {
  const button = /** @type {HTMLButtonElement} */ (element(id));
  button.textContent = say(word);
  button.disabled = !file && id !== 'close';
  button.addEventListener('click', act);
}
const main = report?.querySelector('main');
if (report && main) {
  document.title = report.title;
  element('report').replaceWith(document.adoptNode(main));
} else {
  element('report').textContent = say('page.report.gone');
}
