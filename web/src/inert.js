/**
 * A record (core/report) made anew of the parts that a record has. Whatever else a document holds, should the core ever
 * let it through, comes as the text in it or not at all: no part of this list runs, loads or leads anywhere.
 */
const kHtml = 'http://www.w3.org/1999/xhtml';
const kSvg = 'http://www.w3.org/2000/svg';

const words = (/** @type {string} */ list) => new Set(list.split(' '));
/** @type {Record<string, Set<string>>} */
const kElements = {
  [kHtml]: words(
    'main header section h1 h2 h3 p div span strong s bdi br dl dt dd ul li table thead tbody tr th td figure figcaption',
  ),
  [kSvg]: words('svg title desc text circle line path polygon polyline rect'),
};
const kAttributes = words(
  'class id lang role scope aria-hidden aria-labelledby data-running-head viewBox x y x1 x2 y1 y2 cx cy r d points width ' +
    'height text-anchor',
);
/** What these hold is nothing to read. */
const kSilent = words('script style template noscript');

/** @param {Element} from @returns {Node} of this page's document */
export function inertCopy(from) {
  if (kSilent.has(from.localName)) return document.createTextNode('');
  if (!kElements[from.namespaceURI ?? '']?.has(from.localName)) return document.createTextNode(from.textContent ?? '');
  const copy = document.createElementNS(from.namespaceURI, from.localName);
  for (const {name, value} of from.attributes) {
    // A paint may be an address.
    if (kAttributes.has(name) || (name === 'fill' && value === 'none')) copy.setAttribute(name, value);
  }
  for (const child of from.childNodes) {
    if (child instanceof Element) {
      copy.append(inertCopy(child));
    } else if (child.nodeType === Node.TEXT_NODE) {
      copy.append(child.nodeValue ?? '');
    }
  }
  return copy;
}
