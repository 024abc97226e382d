// 200 simulated farms' depots read by DuckDB through the views of assets/sql: the same as tawny says of each farm.
import assert from 'node:assert/strict';
import { readdirSync } from 'node:fs';
import path from 'node:path';
import test from 'node:test';
import { export_rows, logbook_of, open_depots, simulate, tawny, temporary_folder } from './farms.mjs';

const FARMS = 200;
const PONDS = 4;
const DAYS = 60;
// The simulated season begins on 2026-01-01; this is after its last day at every farm.
const AFTER = '2026-03-03T12:00:00Z';
const AT_ONCE = 2;

const STAGES = ['bottom', 'first_fill', 'rest', 'second_fill', 'first_dose', 'bloom', 'third_fill', 'hold_band',
  'release', 'early_cycle'];
const LOOKS = ['water_colour', 'water_test', 'grazer_count', 'bottom_grab', 'pest_look', 'meter_check'];
const COLUMN_OF = { water_reading: 'water_readings', level_reading: 'level_readings', secchi_reading: 'secchi_pairs' };

// The doses that stand, less those which the manager's answers took out, by core/protocol/look.cpp.
function doses_that_count(rows) {
  const of_pond = new Map();
  for (const row of rows) {
    if (row.stands !== 'yes' || row.kind !== 'dose') continue;
    if (!of_pond.has(row.pond)) of_pond.set(row.pond, []);
    of_pond.get(row.pond).push(row);
  }
  for (const row of rows) {
    if (row.stands !== 'yes' || row.kind !== 'question_settled') continue;
    const { question, keep } = JSON.parse(row.other_values);
    const doses = of_pond.get(row.pond) ?? [];
    const named = doses.find((dose) => dose.reference === question);
    if (keep === 'both' || named === undefined) continue;
    const apart = (dose) => Math.abs(Date.parse(dose.observed) - Date.parse(named.observed));
    const others = doses.filter((dose) => dose !== named && dose.product === named.product);
    if (others.length === 0) continue;
    const other = others.reduce((best, dose) => (apart(dose) < apart(best) ? dose : best));
    doses.splice(doses.indexOf(keep === 'first' ? named : other), 1);
  }
  return of_pond;
}

// What tawny says of a farm, in the words of the views.
async function said_by_tawny(logbook) {
  const rows = await export_rows(logbook);
  const assessed = JSON.parse(await tawny('assess', logbook, '--at', AFTER));
  const standing = rows.filter((row) => row.stands === 'yes' && row.kind !== 'void');
  const said = { entries: rows.length, standing: standing.length, name: assessed.farm, ponds: new Map(), days: new Map() };
  for (const row of standing) {
    const column = COLUMN_OF[row.kind] ?? (LOOKS.includes(row.kind) ? 'other_looks' : undefined);
    if (column === undefined || row.pond === '') continue;
    const key = `${row.pond} ${row.observed_at_farm.slice(0, 10)}`;
    if (!said.days.has(key)) said.days.set(key, { water_readings: 0, level_readings: 0, secchi_pairs: 0, other_looks: 0 });
    const day = said.days.get(key);
    day[column] += 1;
    if (row.do_mg_l !== '') day.lowest_do_mg_l = Math.min(day.lowest_do_mg_l ?? Infinity, Number(row.do_mg_l));
  }
  const doses = doses_that_count(rows);
  for (const pond of assessed.ponds) {
    const given = doses.get(pond.id) ?? [];
    const gates = pond.gates_opened ?? [];
    const start = standing.find((row) => row.kind === 'cycle_start' && row.pond === pond.id &&
      JSON.parse(row.other_values).cycle === pond.cycle);
    const ready = gates.find((gate) => gate.stage === 'release');
    said.ponds.set(pond.id, {
      name: pond.name,
      in_cycle: pond.in_cycle,
      cycle: pond.cycle,
      doses: given.map((dose) => dose.reference).sort(),
      kg: given.reduce((sum, dose) => sum + Number(dose.product_kg), 0),
      by_hand: gates.filter((gate) => gate.by_hand).map((gate) => `${gate.stage} ${gate.decision}`).sort(),
      days_to_ready: ready && (Date.parse(ready.at) - Date.parse(start.observed)) / 86400000,
    });
  }
  return said;
}

// Farm after farm, some at once.
async function for_each_at_once(list, work) {
  const left = [...list];
  await Promise.all(Array.from({ length: AT_ONCE }, async () => {
    for (let one = left.shift(); one !== undefined; one = left.shift()) await work(one);
  }));
}

const by = (rows, ...keys) => new Map(rows.map((row) => [keys.map((key) => row[key]).join(' '), row]));
function grouped(rows, ...keys) {
  const groups = new Map();
  for (const row of rows) {
    const key = keys.map((name) => row[name]).join(' ');
    if (!groups.has(key)) groups.set(key, []);
    groups.get(key).push(row);
  }
  return groups;
}

test('two hundred depots give by SQL what tawny says of each farm, pond by pond', async (t) => {
  const folder = temporary_folder(t);
  const depots = path.join(folder, 'depots');
  t.diagnostic((await simulate(depots, { farms: FARMS, ponds: PONDS, days: DAYS, seed: 2026 })).trim());

  const said = new Map();
  let whole_thousands = 0;
  await for_each_at_once(readdirSync(depots), async (farm) => {
    const logbook = path.join(folder, `${farm}.jsonl`);
    const segments = logbook_of(path.join(depots, farm), logbook);
    whole_thousands += segments.filter((name) => /^\d*1-\d*000-/.test(name)).length;
    said.set(farm, await said_by_tawny(logbook));
  });
  assert.equal(said.size, FARMS);

  const ask = await open_depots(t, depots);
  const [{ lines }] = await ask('SELECT count(*)::DOUBLE AS lines FROM lines');
  const entries = by(await ask('SELECT farm, count(*)::DOUBLE AS n FROM entries GROUP BY farm'), 'farm');
  const standing = by(await ask('SELECT farm, count(*)::DOUBLE AS n FROM standing GROUP BY farm'), 'farm');
  const names = by(await ask('SELECT farm, name FROM farms'), 'farm');
  const ponds = grouped(await ask('SELECT farm, pond, name FROM ponds'), 'farm');
  const doses = grouped(await ask('SELECT farm, pond, reference, product_kg FROM doses'), 'farm', 'pond');
  const days = grouped(await ask(
    `SELECT farm, pond, day, water_readings::DOUBLE AS water_readings, level_readings::DOUBLE AS level_readings,
       secchi_pairs::DOUBLE AS secchi_pairs, other_looks::DOUBLE AS other_looks, lowest_do_mg_l
     FROM readings`), 'farm');
  const gates = grouped(await ask('SELECT farm, pond, cycle, stage, reference FROM gates_by_hand'), 'farm', 'pond', 'cycle');
  const ready = by(await ask('SELECT farm, pond, cycle, days FROM days_to_ready'), 'farm', 'pond', 'cycle');

  const total = { entries: 0, doses: 0, kg: 0, days: 0, by_hand: 0, ready: 0, lasting: 0 };
  for (const [farm, told] of said) {
    assert.equal(entries.get(farm).n, told.entries, `${farm}: entries`);
    assert.equal(standing.get(farm).n, told.standing, `${farm}: entries that stand`);
    assert.equal(names.get(farm).name, told.name, `${farm}: name`);
    assert.deepEqual(new Map(ponds.get(farm).map((row) => [row.pond, row.name])),
      new Map([...told.ponds].sort(([a], [b]) => a.localeCompare(b)).map(([id, pond]) => [id, pond.name])), `${farm}: ponds`);
    total.entries += told.entries;

    const days_here = days.get(farm);
    assert.equal(days_here.length, told.days.size, `${farm}: days with readings`);
    for (const { farm: ignored, pond, day, ...counts } of days_here) {
      const expected = told.days.get(`${pond} ${day}`);
      assert.ok(expected, `${farm} ${pond} ${day}: a day that only DuckDB knows`);
      assert.deepEqual({ ...counts, lowest_do_mg_l: counts.lowest_do_mg_l ?? undefined },
        { lowest_do_mg_l: undefined, ...expected }, `${farm} ${pond} ${day}: readings`);
    }
    total.days += days_here.length;

    for (const [id, pond] of told.ponds) {
      const where = `${farm} ${id}`;
      const given = doses.get(where) ?? [];
      const kg = given.reduce((sum, dose) => sum + dose.product_kg, 0);
      assert.deepEqual(given.map((dose) => dose.reference).sort(), pond.doses, `${where}: doses`);
      assert.ok(Math.abs(kg - pond.kg) < 1e-6, `${where}: ${kg} kg by SQL, ${pond.kg} kg by tawny`);
      total.doses += given.length;
      total.kg += pond.kg;
      if (!pond.in_cycle) continue;
      total.lasting += 1;
      const passed = (gates.get(`${where} ${pond.cycle}`) ?? [])
        .map((row) => `${STAGES[row.stage - 1]} ${row.reference}`).sort();
      assert.deepEqual(passed, pond.by_hand, `${where}: gates passed by hand`);
      total.by_hand += passed.length;
      const took = ready.get(`${where} ${pond.cycle}`)?.days;
      if (pond.days_to_ready === undefined) {
        assert.equal(took, undefined, `${where}: not ready`);
      } else {
        assert.ok(Math.abs(took - pond.days_to_ready) < 1e-9, `${where}: ready after ${took} d by SQL, ${pond.days_to_ready} d by tawny`);
        total.ready += 1;
      }
    }
  }
  // Enough of everything that the comparison means something.
  assert.ok(lines > total.entries * 1.05, 'lines that lie in the depots twice');
  assert.ok(whole_thousands > 10, `${whole_thousands} segments of a whole thousand`);
  assert.ok(total.doses > FARMS && total.by_hand > FARMS && total.ready > FARMS / 4, JSON.stringify(total));
  t.diagnostic(`equal on ${FARMS} farms: ${JSON.stringify(total)}; ${lines} lines`);
});
