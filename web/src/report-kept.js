/**
 * The way of a report from the app to the tab that shows it: the app puts it aside under a name, the tab takes it from
 * there, also after a reload. The last one only is kept, on this device.
 */
const kCache = 'tawny-report';
const kFileName = 'X-File-Name';
const kChannel = 'tawny-report';

const addressOf = (/** @type {string} */ id) => new URL(`kept-report/${id}`, location.href);

/** @param {string} id @param {File} file */
export async function keepReport(id, file) {
  await caches.delete(kCache);
  const headers = {[kFileName]: encodeURIComponent(file.name), 'Content-Type': 'text/plain; charset=utf-8'};
  await (await caches.open(kCache)).put(addressOf(id), new Response(file, {headers}));
  const channel = new BroadcastChannel(kChannel);
  channel.postMessage(id);
  channel.close();
}

/** @param {string} id @returns {Promise<File | undefined>} */
async function look(id) {
  const kept = await (await caches.open(kCache)).match(addressOf(id));
  if (!kept) return undefined;
  return new File([await kept.blob()], decodeURIComponent(kept.headers.get(kFileName) ?? 'report.html'), {type: 'text/html'});
}

/**
 * The tab may be faster than the app that still puts the report aside.
 * @param {string} id @param {number} patience_ms @returns {Promise<File | undefined>}
 */
export async function takeReport(id, patience_ms) {
  const channel = new BroadcastChannel(kChannel);
  const told = new Promise((done) => {
    channel.onmessage = ({data}) => data === id && done(undefined);
    setTimeout(done, patience_ms);
  });
  try {
    return (await look(id)) ?? (await told.then(() => look(id)));
  } finally {
    channel.close();
  }
}
