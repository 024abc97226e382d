/**
 * The way to every screen of the demo farm, by the controls that lead there: what is to hold on any screen is tried on
 * all of them.
 */

/** The five areas, by their tabs. */
export const areas = ['tab/rounds', 'tab/ponds', 'tab/bin', 'tab/logbook', 'tab/office'].map((tab) => `tab/${tab}`);

const acts = ['tab/tab/ponds', 'pond/p5', 'pond/enter'];
const office = (/** @type {string[]} */ ...steps) => ['tab/tab/office', ...steps];

/** Screens further in, by what is touched on the way. @type {Record<string, string[]>} */
export const further = {
  'a pond': ['tab/tab/ponds', 'pond/p5'],
  'what a criterion rests on': ['tab/tab/ponds', 'pond/p5', 'criterion/hold_band.secchi'],
  'the guide of a stage': ['tab/tab/ponds', 'pond/p5', 'pond/guide'],
  'the charts of a pond': ['tab/tab/ponds', 'pond/p5', 'pond/charts'],
  'its charts as a table': ['tab/tab/ponds', 'pond/p5', 'pond/charts', 'charts/table'],
  'the gate': ['tab/tab/ponds', 'pond/p5', 'pond/decide'],
  'the filling plan': ['tab/tab/ponds', 'pond/p2', 'pond/filling'],
  'the dose plan': ['tab/tab/bin', 'dose/pond/p3'],
  'the list of acts': acts,
  'the entry of oxygen': [...acts, 'act/water_reading'],
  'the entry of Secchi': [...acts, 'act/secchi_reading'],
  'the entry of colour': [...acts, 'act/water_colour'],
  'the entry of the sky': [...acts, 'act/sky'],
  'the entry of the bottom': [...acts, 'act/bottom_look'],
  'the set-up of a pond': office('office/pond'),
  'the bin': office('office/bin'),
  'who holds the phone': office('office/person'),
  'the farm': office('office/farm'),
  about: office('office/about'),
  'open questions': office('office/questions'),
  'the plan': office('office/plan'),
  'a booking': office('office/plan', 'plan/add'),
  'the stock': office('office/stock'),
  'a delivery of fertilizer': office('office/stock', 'stock/deliver'),
  'the records': office('office/report'),
  'the records of a pond': office('office/report', 'report/pond/p6'),
  'the protocol': office('office/protocol'),
  'the products': office('office/products'),
  'cycles side by side': ['tab/tab/ponds', 'pond/p6', 'pond/compare'],
  'the calculators': office('office/reckon'),
  'the calculator of a dose': office('office/reckon', 'reckon/open/dose', 'reckon/more'),
  'the calculator of a day': office('office/reckon', 'reckon/open/sun'),
};

/**
 * Calls `look` on each of those screens, and leads back from it.
 * @param {import('./harness.mjs').Phone} phone
 * @param {(where: string) => Promise<void>} look
 */
export async function visitAll(phone, look) {
  for (const area of areas) {
    await phone.activate(area);
    await look(area);
  }
  for (const [where, way] of Object.entries(further)) {
    for (const step of way) {
      // On a laptop the things of the device lie behind one more control.
      const isBehind = step.startsWith('office/') && !(await phone.present(step)) && (await phone.present('office/things'));
      if (isBehind) await phone.activate('office/things');
      await phone.activate(step);
    }
    await look(where);
    // Only the tabs lead out of a screen further in, and they stand at the root.
    while (await phone.present('back')) await phone.activate('back');
  }
}

/**
 * Gives a phone that is set up for nothing yet the farm of these lines, as a file from another phone.
 * @param {import('./harness.mjs').Phone} phone @param {string[]} lines
 */
export async function joinByFile(phone, lines) {
  const [chooser] = await Promise.all([phone.page.waitForEvent('filechooser'), phone.activate('welcome/join')]);
  await chooser.setFiles({name: 'farm.txt', mimeType: 'text/plain', buffer: Buffer.from(`${lines.join('\n')}\n`)});
  await phone.page.locator('#mirror [data-node="incoming/accept"]:not([aria-disabled=true])').waitFor({state: 'attached'});
  await phone.activate('incoming/accept');
  await phone.node('person/name');
}

/**
 * Connects a phone to the office's folder as its settings screen does, and opens the app again, which then syncs.
 * @param {import('./harness.mjs').Phone} phone @param {Record<string, string>} settings
 */
export async function connectDepot(phone, settings) {
  await phone.page.evaluate((all) => {
    for (const [key, value] of Object.entries(all)) localStorage.setItem(`tawny.setting.depot.${key}`, value);
  }, settings);
  await phone.reload();
}

/**
 * A manager's phone with these lines and a folder of the office that is not there.
 * @param {import('./harness.mjs').Phone} phone set up for nothing yet @param {string[]} lines
 */
export async function becomeOffice(phone, lines) {
  await joinByFile(phone, lines);
  await phone.type('Your name', 'Ines');
  await phone.activate('person/role/manager');
  await phone.activate('save');
  await phone.find('tab', 'Office');
  const address = `${new URL(phone.page.url()).origin}/depot/`;
  await connectDepot(phone, {kind: 'webdav', address, user: 'office', writer: 'office', password: 'of-the-office'});
}
