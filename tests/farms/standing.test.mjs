// The current truth by SQL against tawny's: random trees of corrections and voids, of several devices, one of them
// cloned, with lines that lie in the depot more than once.
import assert from 'node:assert/strict';
import { createHash } from 'node:crypto';
import { mkdirSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import test from 'node:test';
import { export_rows, logbook_of, open_depots, temporary_folder } from './farms.mjs';

const FARMS = 12;
const ENTRIES = 150;
const MOST_VOIDS_IN_A_CHAIN = 4;

// The generator of Park & Miller 1988 with 48271: the same farms in every run.
function chance_from(seed) {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

const sha256 = (text) => createHash('sha256').update(text).digest('hex');

function line_of(fields) {
  const body = JSON.stringify({ v: 1, ...fields }).slice(0, -1);
  return `${body},"hash":"${sha256(body)}"}`;
}

// A farm's entries, each with its line; every second one points at an earlier one.
function tangled_farm(farm, chance) {
  const devices = ['a', 'b', 'b', 'c'].map((device) => ({ device, number: 0, previous: '0'.repeat(64) }));
  const entries = [];
  let minute = 0;
  for (let i = 0; i < ENTRIES; i += 1) {
    const chain = devices[Math.floor(chance() * devices.length)];
    const draft = { pond: 'p1', kind: 'note', values: { text: `entry ${i}` } };
    let voids_below = 0;
    if (entries.length > 0 && chance() < 0.6) {
      const target = entries[Math.floor(chance() ** 0.5 * entries.length)];
      if (target.draft.kind === 'note' && chance() < 0.5) {
        draft.corrects = target.reference;
      } else if (target.voids_below < MOST_VOIDS_IN_A_CHAIN) {
        draft.kind = 'void';
        draft.voids = target.reference;
        draft.values = {};
        voids_below = target.voids_below + 1;
      }
    }
    minute += 1;
    const at = new Date(Date.UTC(2026, 0, 1) + 60000 * minute).toISOString().replace('.000', '');
    const { values, ...head } = draft;
    chain.number += 1;
    const line = line_of({
      farm, device: chain.device, number: chain.number,
      // Now and then two phones count alike, each without having met the other.
      lamport: draft.corrects || draft.voids ? i + 2 : i + 2 - Math.floor(chance() * 2),
      observed: at, recorded: at, who: 'Lien', ...head, values, previous: chain.previous,
    });
    const hash = line.slice(-66, -2);
    chain.previous = hash;
    entries.push({ draft, voids_below, line, device: chain.device, number: chain.number,
      reference: `${chain.device}/${chain.number}/${hash.slice(0, 16)}` });
  }
  return entries;
}

// Each line where it belongs, a third of them once more under another account.
function put_into_depot(depot, entries, chance) {
  for (const { device, number, line } of entries) {
    const bytes = `${line}\n`;
    const name = `${number}-${number}-${sha256(bytes).slice(0, 16)}.jsonl`;
    for (const writer of chance() < 1 / 3 ? [device, 'office'] : [device]) {
      const folder = path.join(depot, writer, device, '0');
      mkdirSync(folder, { recursive: true });
      writeFileSync(path.join(folder, name), bytes);
    }
  }
}

test('what stands by SQL is what stands by tawny, however entries correct and take back each other', async (t) => {
  const folder = temporary_folder(t);
  const depots = path.join(folder, 'depots');
  const expected = new Map();
  let fallen = 0;
  for (let number = 1; number <= FARMS; number += 1) {
    const farm = `tangle-${number}`;
    const chance = chance_from(1000 + number);
    const entries = tangled_farm(farm, chance);
    put_into_depot(path.join(depots, farm), entries, chance);
    const logbook = path.join(folder, `${farm}.jsonl`);
    logbook_of(path.join(depots, farm), logbook);
    const rows = await export_rows(logbook);
    assert.equal(rows.length, entries.length, `${farm}: tawny takes every line once`);
    expected.set(farm, rows.filter((row) => row.stands === 'yes' && row.kind !== 'void').map((row) => row.reference).sort());
    fallen += rows.filter((row) => row.stands !== 'yes').length;
  }
  const ask = await open_depots(t, depots);
  for (const [farm, references] of expected) {
    const rows = await ask(`SELECT reference FROM standing WHERE farm = '${farm}'`);
    assert.deepEqual(rows.map((row) => row.reference).sort(), references, farm);
  }
  assert.ok(fallen > FARMS * 20, `${fallen} entries that do not stand`);
});
