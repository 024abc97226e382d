/**
 * What has to stand before anything else of the page: a plain script, run before the first paint and before any other.
 */
import './night.js';
import {isFirstVisit, preload} from './first-visit.js';
import {reach} from './reach.js';

reach();
if (!isFirstVisit()) preload(__TAWNY_REST__);
