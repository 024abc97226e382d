/**
 * The lock's share of the page: hashing a PIN, and covering the canvas while the page is away. What the lock does is
 * decided in wasm-shell/ui/app_lock.h.
 */
import {allSettings, remember} from './settings.js';

/** Seconds to wait after so many wrong tries in a row, as in wasm-shell/ui/app_lock.cpp. */
const kWaitS = [0, 0, 0, 60, 300, 900, 3600];

/** A secure page hashes; on another one there is no PIN. */
export const canHash = () => globalThis.crypto?.subtle !== undefined;

/** @param {string} hex */
const bytesOf = (hex) => Uint8Array.from(hex.match(/../g) ?? [], (digits) => parseInt(digits, 16));

/**
 * PBKDF2-HMAC-SHA-256 (RFC 8018).
 * @param {string} secret @param {Uint8Array} salt @param {number} iterations @param {number} bytes
 * @returns {Promise<string>} hex
 */
export async function pbkdf2(secret, salt, iterations, bytes) {
  const key = await crypto.subtle.importKey('raw', new TextEncoder().encode(secret), 'PBKDF2', false, ['deriveBits']);
  const bits = await crypto.subtle.deriveBits({name: 'PBKDF2', hash: 'SHA-256', salt, iterations}, key, 8 * bytes);
  return Array.from(new Uint8Array(bits), (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** @param {string} pin @param {string} salt hex @param {number} iterations @returns {Promise<string>} '' when it cannot */
export async function derivePin(pin, salt, iterations) {
  try {
    return await pbkdf2(pin, bytesOf(salt), iterations, 32);
  } catch {
    return '';
  }
}

export const isLockSet = () => (allSettings()['lock.hash'] ?? '') !== '';

/** Where the program itself cannot run: the same question, with the same waits. @param {string} pin */
export async function opensLock(pin) {
  const settings = allSettings();
  const wrong = Number(settings['lock.wrong'] ?? 0);
  const now = Math.floor(Date.now() / 1000);
  const from = Math.min(Number(settings['lock.from'] ?? 0), now);
  if (now < from + kWaitS[Math.min(wrong, kWaitS.length - 1)]) return false;
  remember('lock.wrong', String(wrong + 1));
  remember('lock.from', String(now));
  const hash = await derivePin(pin, settings['lock.salt'] ?? '', Number(settings['lock.iterations'] ?? 0));
  if (hash === '' || hash !== settings['lock.hash']) return false;
  remember('lock.wrong', '0');
  return true;
}

/**
 * A page that comes back shows its last picture until the next one is drawn: with a lock that picture is covered.
 * @param {(seen: number) => void} tell
 */
export function watchSeen(tell) {
  const root = document.documentElement;
  document.addEventListener('visibilitychange', () => {
    const seen = document.visibilityState === 'visible';
    if (!seen && isLockSet()) root.classList.add('covered');
    tell(seen ? 1 : 0);
    // Two frames on, what was to be drawn is on the screen.
    if (seen) requestAnimationFrame(() => requestAnimationFrame(() => root.classList.remove('covered')));
  });
}
