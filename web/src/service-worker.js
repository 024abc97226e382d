/**
 * Keeps every file of one version of the app, whole or not at all, and answers from there. A new version waits
 * until the page says that the person accepted it. The logbook and the witness are none of its business.
 */
import {kSharePath, putShared} from './shared.js';
import {cleanupOutdatedCaches, matchPrecache, precacheAndRoute} from 'workbox-precaching';

/** @type {{url: string, revision: string | null}[]} the build writes the list here */
const files = self.__WB_MANIFEST;

cleanupOutdatedCaches();
precacheAndRoute(files, {ignoreURLParametersMatching: [/^(demo|own|shared)$/]});

self.addEventListener('fetch', (event) => {
  const {scope} = self.registration;
  if (event.request.method === 'POST' && event.request.url === scope + kSharePath) {
    event.respondWith(putShared(event.request, scope));
  }
});

// The page of the very first visit counts as a user of this version too, so that the next one waits for it.
self.addEventListener('activate', (event) => event.waitUntil(self.clients.claim()));

self.addEventListener('message', (event) => {
  if (event.data?.ask === 'take over') {
    event.waitUntil(self.skipWaiting());
  } else if (event.data?.ask === 'complete') {
    const answer = async () => {
      const found = await Promise.all(files.map((file) => matchPrecache(file.url)));
      event.ports[0].postMessage(found.every((response) => response !== undefined));
    };
    event.waitUntil(answer());
  }
});
