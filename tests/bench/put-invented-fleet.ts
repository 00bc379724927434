import { sql } from 'drizzle-orm';
import type { Db } from '@/db/client';
import { fitment, person, reading, shed, unit } from '@/db/schema';
import type { Actor } from '@/lib/access';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { isoFromDay } from '@/lib/calendar';

const atATime = 2_000;

/** Puts an invented fleet on record, a pump and a reading each, and gives its manager. */
export async function putInventedFleet(
  db: Db,
  fleet: readonly BulletinFacts[],
  now: Date,
): Promise<Actor> {
  const place = { id: 's', name: 'Bench shed', elevationM: 300, timeZone: 'America/Denver' };
  const measures = { pressureUnit: 'psi', distanceUnit: 'mi', bayHoursPerWeek: 40 } as const;
  await db.insert(shed).values({ ...place, ...measures });
  const role = 'fleet manager';
  const email = 'manager@fleet.example';
  await db.insert(person).values({ id: 'm', name: 'Manager', email, badge: 'M', role });
  for (let from = 0; from < fleet.length; from += atATime) {
    const some = fleet.slice(from, from + atATime);
    await db.insert(unit).values(some.map(unitRow));
    await db
      .insert(fitment)
      .values(some.flatMap((one) => one.fitted.map((part) => ({ unitId: one.unit, ...part }))));
    await db.insert(reading).values(some.flatMap((one) => readingRow(one, now)));
  }
  await db.execute(sql`analyze`);
  return { personId: 'm', name: 'Manager', role, shedIds: [], roleSince: now };
}

function unitRow(facts: BulletinFacts): typeof unit.$inferInsert {
  const { built, fitted: _, odometer: __, newest: ___, unit: id, ...kept } = facts;
  const [year = 0, month = 0, day = 0] = built ? isoFromDay(built.from).split('-').map(Number) : [];
  return {
    id,
    ...kept,
    builtYear: built ? year : null,
    builtMonth: built ? month : null,
    builtDay: built?.precision === 'day' ? day : null,
    shedId: 's',
    body: 'SUV',
    odometerUnit: 'mi',
    trackedFrom: '2012-01-01',
  };
}

function readingRow({ unit: unitId, newest, odometer }: BulletinFacts, now: Date) {
  if (!newest) return [];
  return [
    {
      id: `00000000-0000-4000-8000-${unitId.padStart(12, '0')}`,
      ...{ unitId, technicianId: 'm', shedId: 's', readAt: now, receivedAt: now },
      readOn: isoFromDay(newest.readOn),
      line: newest.line,
      recoveryS: newest.recovery,
      idleVacuumKpa: newest.idle,
      lowestKpa: newest.lowest,
      odometerKm: odometer?.value ?? null,
      source: 'import' as const,
      payloadDigest: unitId,
    } satisfies typeof reading.$inferInsert,
  ];
}
