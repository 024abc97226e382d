/**
 * The language of the page, and the few words that the page itself says: those with ids "page.*" of
 * assets/languages/, which the build writes here. Everything else is worded by the program, which is given the table
 * of the language.
 */
import {allSettings} from './settings.js';

/** @type {Record<string, string>} file of each language's table, by BCP 47 code */
const kTables = __TAWNY_TABLES__;
/** @type {Record<string, Record<string, string>>} */
const kPageWords = __TAWNY_PAGE_WORDS__;

/** Those that there are tables of. */
export const languages = Object.keys(kTables);

let language = 'en';

/** @param {string} wanted a code as browsers give it: "es-419", "pt", "in" @returns {string | undefined} */
function closest(wanted) {
  // Old systems still say "in" for Indonesian.
  const root = wanted.toLowerCase().split('-')[0].replace(/^in$/, 'id');
  return languages.find((code) => code.toLowerCase().split('-')[0] === root);
}

/** What the person chose, else the first of the phone's languages that there is, else English. */
export function chosenLanguage() {
  const chosen = allSettings().language;
  if (chosen in kTables) return chosen;
  return (navigator.languages ?? [navigator.language]).map(closest).find((code) => code !== undefined) ?? 'en';
}

/** From now on the page speaks this language. @param {string} code */
export function setLanguage(code) {
  language = code;
  document.documentElement.lang = code;
}

/** @param {string} code @returns {Promise<string>} the table; empty when it cannot be had */
export async function fetchWords(code) {
  try {
    const response = await fetch(kTables[code]);
    return response.ok ? await response.text() : '';
  } catch {
    return '';
  }
}

/** @param {string} id */
export const say = (id) => kPageWords[language][id] ?? id;
