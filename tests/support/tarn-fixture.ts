import { randomUUID } from 'node:crypto';
import type { Db } from '@/db/client';
import { person, personShed, reading, shed, unit, workOrder } from '@/db/schema';
import type { Actor, Role } from '@/lib/access';
import { isoFromDay, localDay } from '@/lib/calendar';
import { toKilopascals } from '@/lib/measure';

const psi = (value: number) => toKilopascals(value, 'psi');

/** A shed, its units and people of one test; ids carry a mark of their own, so tests share a database. */
export interface Fixture {
  readonly shedId: string;
  readonly unitIds: readonly string[];
  person(role: Role, roleSince?: Date): Promise<Actor>;
}

export async function makeFixture(db: Db, units = 1): Promise<Fixture> {
  const mark = randomUUID().slice(0, 6).toUpperCase();
  const shedId = `shed-${mark}`;
  await db.insert(shed).values({
    id: shedId,
    name: `Shed ${mark}`,
    elevationM: 300,
    timeZone: 'America/Denver',
    pressureUnit: 'psi',
    distanceUnit: 'mi',
    bayHoursPerWeek: 40,
  });
  const unitIds = Array.from({ length: units }, (_, index) => `U${mark}-${index}`);
  await db.insert(unit).values(
    unitIds.map((id) => ({
      id,
      shedId,
      body: 'pickup' as const,
      odometerUnit: 'mi' as const,
      trackedFrom: '2025-01-01',
    })),
  );
  let count = 0;
  return {
    shedId,
    unitIds,
    async person(role, roleSince = new Date('2025-01-01T00:00:00Z')) {
      const personId = `${mark}-${count++}`;
      await db.insert(person).values({
        id: personId,
        name: `Person ${personId}`,
        email: `${personId}@fleet.example`.toLowerCase(),
        badge: personId,
        role,
        roleSince,
      });
      await db.insert(personShed).values({ personId, shedId });
      return { personId, name: `Person ${personId}`, role, shedIds: [shedId], roleSince };
    },
  };
}

type ReadingRow = typeof reading.$inferInsert;

/** Puts a reading on record as if it had arrived at once; sound unless `change` says otherwise. */
export async function putReading(
  db: Db,
  at: { readonly unitId: string; readonly shedId: string; readonly by: string; readonly on: Date },
  change: Partial<ReadingRow> = {},
): Promise<string> {
  const id = randomUUID();
  await db.insert(reading).values({
    id,
    unitId: at.unitId,
    shedId: at.shedId,
    technicianId: at.by,
    readOn: isoFromDay(localDay(at.on, 'America/Denver')),
    readAt: at.on,
    receivedAt: at.on,
    idleVacuumKpa: psi(13),
    raisedVacuumKpa: psi(13.3),
    lowestKpa: psi(10.6),
    recoveryS: 4,
    holdLossKpa: psi(0.2),
    holdTimeS: 60,
    line: 'dry',
    pedal: 'normal',
    belt: 'sound',
    odometerKm: 50_000,
    isClipTugged: true,
    source: 'form',
    payloadDigest: id,
    ...change,
  });
  return id;
}

/** A work order that was begun and finished within the spell. */
export async function putFinishedOrder(
  db: Db,
  at: { readonly unitId: string; readonly by: string; readonly finishedAt: Date },
): Promise<string> {
  const [row] = await db
    .insert(workOrder)
    .values({
      unitId: at.unitId,
      state: 'finished',
      why: 'pump',
      raisedFrom: 'spell',
      raisedBy: at.by,
      raisedAt: at.finishedAt,
      begunBy: at.by,
      begunAt: at.finishedAt,
      finishedBy: at.by,
      finishedAt: at.finishedAt,
    })
    .returning({ id: workOrder.id });
  if (!row) throw new Error('the order was not stored');
  return row.id;
}
