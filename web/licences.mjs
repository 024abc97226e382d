/**
 * The parts of the app and the texts of their licences, as the body of a page that needs no script.
 */

/** @param {string} text */
const escaped = (text) => text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');

/** @param {import('./parts.mjs').Part[]} parts */
export function licencesHtml(parts) {
  const one = (/** @type {import('./parts.mjs').Part} */ {name, version, licence, text}) =>
    `<details><summary>${escaped(name)} <span>${escaped(version)}, ${escaped(licence)}</span></summary>` +
    `<pre lang="en">${escaped(text)}</pre></details>`;
  return parts.map(one).join('\n');
}
