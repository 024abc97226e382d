/**
 * The page of licences in the app's language and light. Its texts are in the page itself, as their authors wrote them.
 */
import './night.js';
import {allSettings} from './settings.js';

/** @type {Record<string, Record<string, string>>} */
const kWords = __TAWNY_LICENCE_WORDS__;

const chosen = allSettings().language;
const root = (/** @type {string} */ code) => code.toLowerCase().split('-')[0];
const wanted = chosen ? [chosen] : navigator.languages;
const language = wanted.map((code) => Object.keys(kWords).find((known) => root(known) === root(code))).find(Boolean) ?? 'en';
const say = (/** @type {string} */ id) => kWords[language][id];
const element = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

document.documentElement.lang = language;
document.title = `Tawny: ${say('page.licences.title')}`;
element('title').textContent = say('page.licences.title');
element('about').textContent = say('page.licences.about');
const close = /** @type {HTMLButtonElement} */ (element('close'));
close.textContent = say('page.licences.close');
close.hidden = false;
// A page that the app opened closes; one that was opened in its place leads back to it.
close.addEventListener('click', () => (history.length > 1 ? history.back() : globalThis.close()));
