/**
 * A bad network between a page and a server: takes each request whole, and then does to it what it was told. TLS on
 * the page's side, since a browser is more forgiving of a torn answer without it.
 *
 *   const proxy = await FaultyProxy.start(server.upstream, {certificate, key});
 *   proxy.fault = {when: ({method}) => method === 'PUT', sendOnly: 100};
 *
 * @typedef {object} Fault
 * @property {(request: {method: string, url: string}) => boolean} when
 * @property {number} [sendOnly] bytes of the request that reach the server before the connection is cut
 * @property {number} [giveOnly] bytes of the answer that reach the page before the connection is cut; below zero: all but
 * @property {{status: number, type?: string, text?: string, location?: string, allow?: string}} [answer] given in the server's place;
 *   `allow` is the origin that CORS lets read it
 * @property {boolean} [silent] no byte comes back
 * @property {{bytes: number, everyMs: number}} [drip] the answer comes in pieces
 * @property {number} [times] how often; without it, always
 */
import {once} from 'node:events';
import {createServer} from 'node:https';
import {connect as connectPlain} from 'node:net';
import {connect as connectTls} from 'node:tls';

export class FaultyProxy {
  /** @param {{port: number, tls: boolean}} upstream @param {{certificate: string, key: string}} own in PEM */
  static async start(upstream, {certificate, key}) {
    const proxy = new FaultyProxy();
    /** @type {Fault | undefined} */
    proxy.fault = undefined;
    /** What came, and how many bytes it had; the answers' lengths too. @type {{method: string, url: string, sent: number, given: number}[]} */
    proxy.seen = [];
    proxy.upstream = upstream;
    proxy.server = createServer({cert: certificate, key}, (request, response) => void proxy.pass(request, response));
    proxy.server.listen(0, '127.0.0.1');
    await once(proxy.server, 'listening');
    proxy.port = proxy.server.address().port;
    proxy.origin = `https://localhost:${proxy.port}`;
    return proxy;
  }

  /** @param {import('node:http').IncomingMessage} request @param {import('node:http').ServerResponse} response */
  async pass(request, response) {
    const {method, url, socket} = request;
    const pieces = [];
    for await (const piece of request) pieces.push(piece);
    const isFaulty = this.fault !== undefined && (this.fault.times ?? 1) > 0 && this.fault.when({method, url});
    const fault = isFaulty ? this.fault : undefined;
    if (fault?.times !== undefined) --fault.times;
    if (fault?.silent) return;
    if (fault?.answer) {
      const {status, type = 'text/plain', text = '', location, allow} = fault.answer;
      const more = {...(location && {Location: location}), ...(allow && {'Access-Control-Allow-Origin': allow})};
      response.writeHead(status, {'Content-Type': type, Connection: 'close', ...more});
      response.end(text);
      return;
    }
    let head = `${method} ${url} HTTP/1.1\r\n`;
    for (let i = 0; i < request.rawHeaders.length; i += 2) {
      if (request.rawHeaders[i].toLowerCase() === 'connection') continue;
      head += `${request.rawHeaders[i]}: ${request.rawHeaders[i + 1]}\r\n`;
    }
    const whole = Buffer.concat([Buffer.from(`${head}Connection: close\r\n\r\n`), ...pieces]);
    const answer = await this.exchange(whole.subarray(0, fault?.sendOnly ?? whole.length), fault?.sendOnly !== undefined);
    this.seen.push({method, url, sent: whole.length, given: answer.length});
    if (fault?.sendOnly !== undefined) {
      socket.destroy();
    } else if (fault?.giveOnly !== undefined) {
      socket.write(answer.subarray(0, fault.giveOnly), () => socket.destroy());
    } else if (fault?.drip) {
      for (let at = 0; at < answer.length && !socket.destroyed; at += fault.drip.bytes) {
        socket.write(answer.subarray(at, at + fault.drip.bytes));
        await new Promise((done) => setTimeout(done, fault.drip.everyMs));
      }
      socket.end();
    } else {
      socket.end(answer);
    }
  }

  /** @param {Buffer} bytes @param {boolean} cut hang up when they are sent @returns {Promise<Buffer>} the answer, raw */
  exchange(bytes, cut) {
    const {port, tls} = this.upstream;
    return new Promise((done) => {
      const answer = [];
      const socket = tls
        ? connectTls({port, host: '127.0.0.1', servername: 'localhost', rejectUnauthorized: false})
        : connectPlain({port, host: '127.0.0.1'});
      const finish = () => done(Buffer.concat(answer));
      socket.on('data', (data) => answer.push(data));
      socket.on('end', finish).on('close', finish).on('error', finish);
      socket.on(tls ? 'secureConnect' : 'connect', () =>
        socket.write(bytes, () => {
          if (cut) socket.destroy();
        }),
      );
    });
  }

  async end() {
    const closed = once(this.server, 'close');
    this.server.close();
    this.server.closeAllConnections();
    await closed;
  }
}
