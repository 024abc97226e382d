/**
 * The only ways by which a text becomes a document, or a name a script: the page's policy (Trusted Types) refuses every
 * other. Neither way hands out what it made the browser trust.
 */

/** @typedef {{createHTML?: (text: string) => string, createScriptURL?: (name: string) => string}} Rules */
/** @typedef {{createHTML: (text: string) => any, createScriptURL: (name: string) => any}} Policy */

/** A browser that knows no Trusted Types takes the texts as they are. @param {string} name @param {Rules} rules @returns {Policy} */
const policyOf = (name, rules) => /** @type {any} */ (globalThis).trustedTypes?.createPolicy(name, rules) ?? rules;

/** @type {Policy | undefined} */
let parsing;
/** @type {Policy | undefined} */
let naming;

/**
 * Reads a text into a document of its own, where no script runs and nothing is loaded.
 * @param {string} text @param {DOMParserSupportedType} type
 */
export function parsed(text, type) {
  parsing ??= policyOf('tawny-parsed', {createHTML: (written) => written});
  return new DOMParser().parseFromString(parsing.createHTML(text), type);
}

/**
 * A file of this build that may run. Throws for any other name.
 * @param {string} name @returns {any} for `src` and the like
 */
export function ownScript(name) {
  naming ??= policyOf('tawny-script', {
    createScriptURL(asked) {
      if (!/^[\w-]+\.js$/.test(asked)) throw new TypeError(`"${asked}" is no script of this app`);
      return asked;
    },
  });
  return naming.createScriptURL(name);
}
