/**
 * Everything that the program asks of the page, in one place: globalThis.tawnyHost, called by the EM_JS functions
 * of wasm-shell/platform/bridge.cpp and by nothing else.
 *
 * @typedef {object} Host
 * @property {(ticket: number, entries: string) => void} save answered by tawny_saved
 * @property {(name: string, text: string) => void} shareFile answered by tawny_shared when the file went its way
 * @property {(name: string, html: string) => void} showReport
 * @property {() => void} showLicences
 * @property {(ticket: number, act: import('./carry.js').Act, name: string, bytes: Uint8Array) => void} carry answered by
 *   tawny_carried
 * @property {() => void} stopCarrying
 * @property {() => boolean} restartForDepot whether it starts the page again
 * @property {() => void} startWithHashes
 * @property {(settings: string) => string} codeRows
 * @property {() => void} pickFile answered by tawny_file
 * @property {(json: string) => void} mirror
 * @property {(text: string, urgent: boolean) => void} announce
 * @property {(milliseconds: number) => void} vibrate
 * @property {(ticket: number, text: string) => void} sign answered by tawny_signed
 * @property {(ticket: number, rows: string) => void} checkSignatures answered by tawny_checked
 * @property {(language: string) => void} fetchWords answered by tawny_words
 * @property {(key: string, value: string) => void} remember
 * @property {(store: import('./which-store.js').StoreName, fresh: boolean) => void} switchStore starts the page again
 * @property {() => void} takeNewDeviceId starts the page again
 * @property {() => void} acceptUpdate starts the page again
 * @property {() => void} askForPen answered by tawny_pen
 * @property {() => void} askPosition answered by tawny_position
 * @property {(night: boolean) => void} showNight
 * @property {(ticket: number, pin: string, salt: string, iterations: number) => void} derivePin answered by tawny_derived
 * @property {(locked: boolean) => void} showLocked
 * @property {() => void} wipe starts the page again
 * @property {(milliseconds: number) => void} wakeAfter answered by tawny_wake
 */

/** @param {Host} host */
export function installHost(host) {
  globalThis.tawnyHost = host;
}
