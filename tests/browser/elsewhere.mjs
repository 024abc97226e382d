/**
 * Another origin, and the ways in which a script that got into a page could send something there.
 */
import {createServer} from 'node:http';

/** Answers everything, to everybody, and remembers what was asked. */
export class Elsewhere {
  static async start() {
    const elsewhere = new Elsewhere();
    /** @type {string[]} */
    elsewhere.asked = [];
    elsewhere.server = createServer((request, response) => {
      elsewhere.asked.push(`${request.method} ${request.url}`);
      const headers = {'Access-Control-Allow-Origin': '*', 'Access-Control-Allow-Headers': '*', 'Access-Control-Allow-Methods': '*'};
      if (request.method === 'OPTIONS') {
        response.writeHead(204, headers).end();
        return;
      }
      const isListing = request.method === 'PROPFIND';
      const text = isListing ? '<multistatus xmlns="DAV:"></multistatus>' : '';
      response.writeHead(isListing ? 207 : 200, {...headers, 'Content-Type': isListing ? 'application/xml' : 'text/plain'}).end(text);
    });
    // A WebSocket begins as a request of its own kind.
    elsewhere.server.on('upgrade', (request, socket) => {
      elsewhere.asked.push(`${request.method} ${request.url}`);
      socket.destroy();
    });
    await new Promise((done) => elsewhere.server.listen(0, '127.0.0.1', done));
    elsewhere.origin = `http://localhost:${elsewhere.server.address().port}`;
    return elsewhere;
  }

  async end() {
    this.server.closeAllConnections();
    await new Promise((done) => this.server.close(done));
  }
}

/** @type {Record<string, (address: string) => void>} each runs in a page; what comes of it is of no interest there */
export const waysOut = {
  fetch: (address) => void fetch(address).catch(() => {}),
  'fetch without an answer': (address) => void fetch(address, {mode: 'no-cors', method: 'POST', body: 'x'}).catch(() => {}),
  XMLHttpRequest: (address) => {
    const request = new XMLHttpRequest();
    request.open('GET', address);
    request.send();
  },
  'a beacon': (address) => void navigator.sendBeacon(address, 'x'),
  'a WebSocket': (address) => void new WebSocket(address.replace('http:', 'ws:')),
  'a stream of events': (address) => void new EventSource(address),
  'a picture': (address) => {
    new Image().src = address;
  },
  'a picture of a style': (address) => {
    document.documentElement.style.backgroundImage = `url(${address})`;
  },
  'a sound': (address) => {
    new Audio(address).load();
  },
  'a style sheet': (address) => {
    const link = Object.assign(document.createElement('link'), {rel: 'stylesheet', href: address});
    document.head.append(link);
  },
  'a link to fetch beforehand': (address) => {
    const link = Object.assign(document.createElement('link'), {rel: 'prefetch', href: address});
    document.head.append(link);
  },
  'a font': (address) => void new FontFace('other', `url(${address})`).load().catch(() => {}),
  'a module': (address) => void import(address).catch(() => {}),
  'a frame': (address) => {
    document.body.append(Object.assign(document.createElement('iframe'), {src: address}));
  },
  'a form': (address) => {
    const frame = Object.assign(document.createElement('iframe'), {name: 'answer'});
    const form = Object.assign(document.createElement('form'), {action: address, method: 'post', target: 'answer'});
    document.body.append(frame, form);
    form.submit();
  },
};
