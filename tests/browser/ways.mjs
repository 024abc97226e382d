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
    for (const step of way) await phone.activate(step);
    await look(where);
    // Only the tabs lead out of a screen further in, and they stand at the root.
    while (await phone.present('back')) await phone.activate('back');
  }
}
