/**
 * What has to stand before anything else of the page: a plain script, run before the first paint and before any other.
 */
import './night.js';
import {reach} from './reach.js';

reach();
