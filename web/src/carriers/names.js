/**
 * The names in a depot: writer/device/thousand/first-last-hash.jsonl, and its folders, which end with "/". Whatever
 * else lies in the office's folder is none of this app's business.
 */
import {CarryFault} from './exchange.js';

const kFolder = /^(?:[\w-]{1,64}\/(?:[\w-]{1,64}\/(?:\d{1,7}\/)?)?)?$/;
const kFile = /^[\w-]{1,64}\/[\w-]{1,64}\/\d{1,7}\/\d{1,10}-\d{1,10}-[0-9a-f]{16}\.jsonl$/;

/** In one listing: a large farm has tens of thousands in ten years. */
export const kMostNames = 200_000;

/** The root, "", is a folder. @param {string} name */
export const isFolderName = (name) => kFolder.test(name);
/** @param {string} name */
export const isFileName = (name) => kFile.test(name);

/** Keeps what is not a depot's name from becoming an address. @param {string} name @param {(name: string) => boolean} is */
export function mustBe(name, is) {
  if (!is(name)) throw new CarryFault('malformed', `"${name}" is no name of a depot`);
}
