/**
 * A phone with a farm of its own: the demo farm's entries, put into the own logbook past the app. The demo has neither
 * a lock nor anything to wipe.
 */
import {Phone} from './harness.mjs';
import {storedLines} from './stored.mjs';

/** @param {object} options as of Phone.start @returns {Promise<{phone: Phone, farm: string, ponds: string[]}>} */
export async function startOwnFarm(options) {
  const phone = await Phone.start({...options, query: '?demo'});
  const lines = await storedLines(phone.page);
  const entries = lines.map((line) => JSON.parse(line));
  await phone.page.goto(phone.page.url().replace(/[?#].*/, '') + '?own');
  await phone.started();
  await phone.page.evaluate(
    async ({rows, device}) => {
      const answer = (/** @type {IDBRequest} */ request) =>
        new Promise((resolve, reject) => {
          request.onsuccess = () => resolve(request.result);
          request.onerror = () => reject(request.error);
        });
      const database = await answer(indexedDB.open('tawny-own'));
      const transaction = database.transaction(['entries', 'meta'], 'readwrite', {durability: 'strict'});
      for (const row of rows) transaction.objectStore('entries').put(row);
      transaction.objectStore('meta').put(device, 'device');
      await new Promise((resolve) => transaction.addEventListener('complete', resolve));
      database.close();
    },
    {
      rows: lines.map((line, i) => ({device: entries[i].device, number: entries[i].number, hash: entries[i].hash, line})),
      device: entries.find(({kind}) => kind === 'device_setup')?.device ?? entries[0].device,
    },
  );
  await phone.reload();
  return {
    phone,
    farm: entries.find(({kind}) => kind === 'farm_setup').values.name,
    ponds: entries.filter(({kind}) => kind === 'pond_setup').map(({values}) => values.name),
  };
}
