// How long a technician's reading takes while files go on record beside it: 10,000 units, and readings of
// them, under 50 bulletins. On the PostgreSQL of TEST_DATABASE_URL:
// node tests/support/with-cluster.mjs npx tsx --conditions=react-server tests/bench/record-beside-import.ts
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { importFile } from '@/app/_cli/import-file';
import { person, shed } from '@/db/schema';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import { recordReading } from '@/db/writes/record-reading';
import type { Actor } from '@/lib/access';
import type { ImportKind } from '@/lib/intake/import/import-fields';
import { openTestServer } from '../support/databases';
import { soundPayload } from '../support/sound-payload';

const units = Number(process.argv[2] ?? 10_000);
const readings = 10 * units;
const now = new Date();
const unitId = (k: number) => `U${String(k).padStart(6, '0')}`;
const days = Array.from({ length: 10 }, (_, j) =>
  new Date(Date.UTC(2020, j, 1)).toISOString().slice(0, 10),
);

function unitLines(make: string): string {
  const lines = Array.from(
    { length: units },
    (_, k) => `${unitId(k)},s,2016-01-01,suv,mi,${make},Alder ${k % 9}`,
  );
  return `unit,shed,tracked_from,body,odometer_unit,make,model\n${lines.join('\n')}\n`;
}

function readingLines(): string {
  const lines = Array.from(
    { length: readings },
    (_, row) =>
      `${unitId(Math.floor(row / 10))},R${row},${days[row % 10]},13.1,${6 + (row % 5)},film`,
  );
  return `unit,reading,read_on,idle_vacuum_psi,recovery_s,line\n${lines.join('\n')}\n`;
}

const folder = mkdtempSync(join(tmpdir(), 'idlemark-beside-'));
const open = await openTestServer();
try {
  const { db } = open;
  const place = { id: 's', name: 'Bench shed', elevationM: 300, timeZone: 'America/Denver' };
  const measures = { pressureUnit: 'psi', distanceUnit: 'mi', bayHoursPerWeek: 40 } as const;
  await db.insert(shed).values({ ...place, ...measures });
  const anybody = async (id: string, role: Actor['role']): Promise<Actor> => {
    const roleSince = new Date('2020-01-01T00:00:00Z');
    const email = `${id}@fleet.example`;
    await db.insert(person).values({ id, name: id, email, badge: id, role, roleSince });
    return { personId: id, name: id, role, shedIds: ['s'], roleSince };
  };
  const manager = await anybody('manager', 'fleet manager');
  const technician = await anybody('technician', 'technician');
  const put = async (kind: ImportKind, content: string) => {
    const file = join(folder, `${kind}.csv`);
    writeFileSync(file, content);
    const as = 'manager@fleet.example';
    const options = { kind, file, as, column: [], unit: [], 'dry-run': false };
    const steps: number[] = [];
    await importFile(open, options, new Date(), () => steps.push(performance.now()));
    return steps;
  };

  /** Records one reading after the other, of units in turn, until the work is done. */
  async function beside(what: string, work: () => Promise<readonly number[]>): Promise<void> {
    const taken: { readonly at: number; readonly ms: number }[] = [];
    let isDone = false;
    const recording = (async () => {
      for (let k = 0; !isDone; k++) {
        const at = performance.now();
        const payload = soundPayload(unitId((k * 997) % units), technician.personId, k % 300);
        const recorded = await recordReading(db, { actor: technician, payload, now });
        if (!recorded.ok) throw new Error(JSON.stringify(recorded.error));
        taken.push({ at, ms: performance.now() - at });
      }
    })();
    const [, checked = 0, ended = 0] = await work();
    isDone = true;
    await recording;
    const longest = (from: number, to: number) =>
      Math.round(
        Math.max(0, ...taken.filter(({ at }) => at >= from && at < to).map(({ ms }) => ms)),
      );
    const put = `of ${((ended - checked) / 1000).toFixed(1)} s`;
    console.log(
      `${what}: a reading took at most ${longest(0, checked)} ms while it was checked, ${longest(checked, ended)} ms while it went on record (${put})`,
    );
  }

  await put('units', unitLines('Tarn'));
  for (let k = 0; k < 50; k++) {
    const anyOf = [
      { model: [`Alder ${k % 9}`], symptom: { line: ['film'], recoverySlowerThan: 7 } },
    ];
    const entered = await enterBulletin(db, {
      actor: manager,
      draft: {
        number: `B-${k}`,
        issue: '1',
        title: 'Pump seal',
        issuedOn: '2020-01-01',
        kind: 'recommended',
        dueOn: null,
        rule: { anyOf },
        conditions: 'The seal lets oil through.',
        actions: 'Fit revision C.',
        hours: 1,
        requiredParts: [],
        source: 'invented',
      },
      now,
    });
    if (!entered.ok) throw new Error(JSON.stringify(entered.error));
  }
  await beside(`${readings} readings`, () => put('readings', readingLines()));
  await beside(`${units} units`, () => put('units', unitLines('Fell')));
} finally {
  await open.close();
  rmSync(folder, { recursive: true, force: true });
}
