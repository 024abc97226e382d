// What the tests of many farms share: the programs, temporary folders, DuckDB with the views of assets/sql.
import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { promisify } from 'node:util';
import { DuckDBInstance } from '@duckdb/node-api';
import { read_csv } from './csv.mjs';

const run = promisify(execFile);
const root = path.resolve(import.meta.dirname ?? path.dirname(new URL(import.meta.url).pathname), '../..');
const native = path.resolve(root, process.env.TAWNY_NATIVE ?? 'build/native');
const sql_folder = path.join(root, 'assets/sql');

export function temporary_folder(t) {
  const folder = mkdtempSync(path.join(tmpdir(), 'tawny-farms-'));
  t.after(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

export async function simulate(out, { farms, ponds, days, seed }) {
  const words = ['--farms', farms, '--ponds', ponds, '--days', days, '--seed', seed, '--out', out];
  return (await run(path.join(native, 'tests/simulate'), words.map(String))).stdout;
}

export async function tawny(...words) {
  return (await run(path.join(native, 'tawny'), words, { maxBuffer: 1 << 28 })).stdout;
}

// The lines of a depot as one logbook file, as often as they lie there: tawny takes their union. Gives the names of
// the segments.
export function logbook_of(depot, file) {
  const lines = [];
  const names = [];
  const walk = (folder) => {
    for (const entry of readdirSync(folder, { withFileTypes: true })) {
      const name = path.join(folder, entry.name);
      if (entry.isDirectory()) {
        walk(name);
      } else {
        lines.push(readFileSync(name));
        names.push(entry.name);
      }
    }
  };
  walk(depot);
  writeFileSync(file, Buffer.concat(lines));
  return names;
}

export async function export_rows(logbook) {
  return read_csv(await tawny('export', '--csv', logbook));
}

// Asks DuckDB about the depots under a folder: ask(sql) gives rows as plain objects.
export async function open_depots(t, folder) {
  const instance = await DuckDBInstance.create(':memory:');
  const connection = await instance.connect();
  t.after(() => {
    connection.closeSync();
    instance.closeSync();
  });
  await connection.run(`SET VARIABLE depots = '${folder}/*/*/*/*/*.jsonl'`);
  for (const file of readdirSync(sql_folder).sort()) {
    if (file.endsWith('.sql')) await connection.run(readFileSync(path.join(sql_folder, file), 'utf8'));
  }
  return async (sql) => (await connection.runAndReadAll(sql)).getRowObjectsJson();
}
