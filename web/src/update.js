/**
 * The service worker: keeps the app on this device, and brings the next version, which waits until the person
 * accepts it.
 */

import {ownScript} from './trusted.js';

const kLookForUpdateEveryMs = 60 * 60 * 1000;

/** @type {ServiceWorkerRegistration | undefined} */
let registration;

/** @param {ServiceWorker} worker @returns {Promise<boolean>} every file of the app is in the worker's cache */
function holdsEverything(worker) {
  return new Promise((resolve) => {
    const {port1, port2} = new MessageChannel();
    port1.onmessage = ({data}) => resolve(data === true);
    worker.postMessage({ask: 'complete'}, [port2]);
  });
}

/**
 * @param {{offlineReady: (ready: boolean) => void, updateWaiting: () => void}} tell
 */
export async function startServiceWorker(tell) {
  const container = navigator.serviceWorker;
  if (!container) {
    tell.offlineReady(false);
    return;
  }
  try {
    registration = await container.register(ownScript('service-worker.js'), {updateViaCache: 'none'});
  } catch {
    tell.offlineReady(false);
    return;
  }
  const current = registration;
  const announceWaiting = () => {
    if (current.waiting && current.active) tell.updateWaiting();
  };
  current.addEventListener('updatefound', () => current.installing?.addEventListener('statechange', announceWaiting));
  current.installing?.addEventListener('statechange', announceWaiting);
  announceWaiting();

  let lookedAt = Date.now();
  document.addEventListener('visibilitychange', () => {
    if (document.visibilityState !== 'visible' || Date.now() - lookedAt < kLookForUpdateEveryMs) return;
    lookedAt = Date.now();
    current.update().catch(() => {});
  });

  const {active} = await container.ready;
  tell.offlineReady(active !== null && (await holdsEverything(active)));
}

/** The waiting version takes over, and the page starts again under it. */
export function acceptUpdate() {
  if (!registration?.waiting) return;
  navigator.serviceWorker.addEventListener('controllerchange', () => location.reload(), {once: true});
  registration.waiting.postMessage({ask: 'take over'});
}
