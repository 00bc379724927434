// Time and memory of an import of readings from a file, and of a backup of what it made, on the
// PostgreSQL of TEST_DATABASE_URL:
// node tests/support/with-cluster.mjs node --max-semi-space-size=32 --conditions=react-server --import tsx tests/bench/import-readings.ts 500000
import { createWriteStream, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { pipeline } from 'node:stream/promises';
import { eq, sql } from 'drizzle-orm';
import { importFile } from '@/app/_cli/import-file';
import type { Db } from '@/db/client';
import { csvRecords } from '@/db/imports/csv-records';
import { importContext } from '@/db/imports/import-context';
import { idOfKey } from '@/db/imports/on-record';
import { person, reading, shed, unit } from '@/db/schema';
import { guessMapping } from '@/lib/intake/import/column-mapping';
import { importReadingRow } from '@/lib/intake/import/import-reading-row';
import { openTestServer } from '../support/databases';

const rows = Number(process.argv[2] ?? 500_000);
const rowsByRow = Math.min(rows, 5_000);
const readingsOfUnit = 40;
const units = Math.ceil(rows / readingsOfUnit);
const unitId = (k: number) => `U${String(k).padStart(6, '0')}`;
const dayMs = 86_400_000;

function* lines(prefix: string, rows: number): Generator<string> {
  yield 'unit,reading,read_on,idle_vacuum_psi,lowest_psi,recovery_s,hold_loss_psi,hold_minutes,line,odometer_mi,technician\n';
  for (let row = 0; row < rows; row++) {
    const k = Math.floor(row / readingsOfUnit);
    const j = row % readingsOfUnit;
    const day = new Date(Date.UTC(2016, 5, 1) + (j * 91 + (k % 80)) * dayMs);
    const idle = (12.5 + ((k * 7 + j * 13) % 10) / 10).toFixed(1);
    const lowest = (10 + ((k + j) % 9) / 10).toFixed(1);
    yield `${unitId(k)},${prefix}${row},${day.toISOString().slice(0, 10)},${idle},${lowest},${4 + ((k + j) % 5)},0.2,1,dry,${10_000 + j * 3_000},T${k % 40}\n`;
  }
}

/** CPU seconds of all processes of the server, those that have ended too; on Linux alone. */
async function serverCpu(db: Db): Promise<number> {
  const answer = await db.execute(sql`select pid from pg_stat_activity`);
  const { rows } = answer as unknown as { readonly rows: readonly { readonly pid: number }[] };
  const ticksOf = (pid: number) =>
    readFileSync(`/proc/${pid}/stat`, 'utf8')
      .replace(/^.*\) /, '')
      .split(' ')
      .map(Number);
  const parent = ticksOf(rows[0]?.pid ?? 0)[1] ?? 0;
  const own = rows.map(({ pid }) => ticksOf(pid).slice(11, 13));
  const all = [...own, ticksOf(parent).slice(13, 15)].flat();
  return all.reduce((sum, ticks) => sum + ticks, 0) / 100;
}

/** The plain way beside it: each row parsed, looked up and inserted by itself, in one transaction. */
async function rowByRow(db: Db, now: Date): Promise<number> {
  const context = await importContext(db, now);
  const began = performance.now();
  await db.transaction(async (tx) => {
    const text = Readable.from(lines('W', rowsByRow)).map((line: string) => Buffer.from(line));
    let header: readonly string[] | undefined;
    for await (const records of csvRecords(text, 'utf-8')) {
      for (const record of records) {
        if ('broken' in record) throw new Error(record.broken.message);
        if (!header) {
          header = record.cells;
          continue;
        }
        const mapping = guessMapping('readings', header);
        const cellOf = (field: string) =>
          record.cells[header?.indexOf(mapping.columns[field] ?? '') ?? -1] ?? '';
        const parsed = importReadingRow(cellOf, record.line, mapping, context);
        if (!parsed.ok) throw new Error(parsed.error[0]?.message);
        const { key, values } = parsed.value;
        const id = idOfKey('readings', key);
        const known = await tx.select().from(reading).where(eq(reading.id, id));
        if (known.length > 0) continue;
        const facts = { ...values, id, source: 'import', received_at: now, payload_digest: key };
        await tx.execute(sql`
          insert into reading select * from jsonb_populate_record(null::reading,
            ${JSON.stringify({
              entry: 1e9 + record.line,
              is_recovery_keyed: true,
              could_not: {},
              keyed: {},
              is_proof: false,
              payload_version: 1,
              ...facts,
            })}::jsonb)`);
      }
    }
  });
  return (performance.now() - began) / 1000;
}

const folder = mkdtempSync(join(tmpdir(), 'idlemark-import-'));
const open = await openTestServer();
try {
  const place = { id: 's', name: 'Bench shed', elevationM: 300, timeZone: 'America/Denver' };
  const measures = { pressureUnit: 'psi', distanceUnit: 'mi', bayHoursPerWeek: 40 } as const;
  await open.db.insert(shed).values({ ...place, ...measures });
  const email = 'manager@fleet.example';
  const manager = { id: 'm', name: 'Manager', email, badge: 'M' };
  await open.db.insert(person).values({ ...manager, role: 'fleet manager' });
  for (let from = 0; from < units; from += 3_000) {
    const ids = Array.from({ length: Math.min(3_000, units - from) }, (_, k) => unitId(from + k));
    const facts = {
      shedId: 's',
      body: 'SUV',
      odometerUnit: 'mi',
      trackedFrom: '2016-01-01',
    } as const;
    await open.db.insert(unit).values(ids.map((id) => ({ id, ...facts })));
  }
  await open.db.execute(sql`analyze`);
  const file = join(folder, 'readings.csv');
  await pipeline(Readable.from(lines('R', rows)), createWriteStream(file));
  const cpuBefore = { product: process.cpuUsage(), server: await serverCpu(open.db) };
  const started = performance.now();
  const steps: Promise<void>[] = [];
  const { said } = await importFile(
    open,
    {
      kind: 'readings',
      file,
      as: email,
      column: [],
      unit: [],
      'dry-run': false,
    },
    new Date(),
    (step) => {
      const { user, system } = process.cpuUsage(cpuBefore.product);
      const after = (performance.now() - started) / 1000;
      const told = serverCpu(open.db).then((cpu) => {
        const here = ((user + system) / 1e6).toFixed(1);
        const there = (cpu - cpuBefore.server).toFixed(1);
        console.log(
          `  ${step} after ${after.toFixed(1)} s, CPU ${here} s here and ${there} s in the server`,
        );
      });
      steps.push(told);
    },
  );
  const seconds = (performance.now() - started) / 1000;
  const { user, system } = process.cpuUsage(cpuBefore.product);
  const server = (await serverCpu(open.db)) - cpuBefore.server;
  const megabytes = process.resourceUsage().maxRSS / 1024;
  await Promise.all(steps);
  console.log(said);
  console.log(
    `${rows} readings in ${seconds.toFixed(1)} s (${Math.round(rows / seconds)} a second), at most ${megabytes.toFixed(0)} MB; CPU ${((user + system) / 1e6).toFixed(1)} s here and ${server.toFixed(1)} s in the server`,
  );
  if (process.argv[3] === 'only') process.exit(0);
  const plain = await rowByRow(open.db, new Date());
  console.log(`Row by row: ${Math.round(rowsByRow / plain)} a second, over ${rowsByRow} of them`);
} finally {
  await open.close();
  rmSync(folder, { recursive: true, force: true });
}
