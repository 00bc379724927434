import { and, asc, eq, isNotNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { dayFromIso, localDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import {
  type HowFound,
  type ReviewMonth,
  reviewMonths,
  type SpellToReview,
} from '@/lib/stand-down/review-months';
import type { Db, Tx } from '../client';
import { reading, type SpellCause, shed, spell, unit } from '../schema';
import { limitsInForce } from './limits-in-force';
import { unitsSeenBy } from './units-seen-by';

const howFound = (cause: SpellCause): HowFound => {
  if (cause === 'reading past a stop limit' || cause === 'proof withdrawn') return 'reading';
  return cause === 'do-not-drive bulletin' ? 'bulletin' : 'driver';
};

/** The months' figures of the units that the actor may see. */
export async function safetyReview(
  db: Db | Tx,
  actor: Actor,
  { asOf, months }: { readonly asOf: DayNumber; readonly months: number },
): Promise<readonly ReviewMonth[]> {
  const seen = unitsSeenBy(actor);
  const spells = await db
    .select({ spell, timeZone: shed.timeZone })
    .from(spell)
    .innerJoin(unit, eq(unit.id, spell.unitId))
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(seen);
  const units = await db.select().from(unit).where(seen);
  const readings = await db
    .select({ unitId: reading.unitId, readOn: reading.readOn })
    .from(reading)
    .innerJoin(unit, eq(unit.id, reading.unitId))
    .where(and(seen, isNotNull(reading.idleVacuumKpa)))
    .orderBy(asc(reading.readOn));
  const daysRead = new Map<string, DayNumber[]>();
  for (const { unitId, readOn } of readings) {
    const days = daysRead.get(unitId) ?? [];
    days.push(dayFromIso(readOn) ?? 0);
    daysRead.set(unitId, days);
  }
  const { readingIntervalDays, readingGraceDays } = await limitsInForce(db, asOf);
  return reviewMonths({
    asOf,
    months,
    daysUntilOverdue: readingIntervalDays + readingGraceDays,
    spells: spells.map(
      ({ spell: row, timeZone }): SpellToReview => ({
        unitId: row.unitId,
        openedOn: localDay(row.openedAt, timeZone),
        releasedOn: row.releasedAt && localDay(row.releasedAt, timeZone),
        howFound: howFound(row.cause),
        wasWarned: row.wasWarned,
      }),
    ),
    units: units.map((one) => ({
      trackedFrom: dayFromIso(one.trackedFrom) ?? 0,
      leftOn: one.leftFleetOn === null ? null : dayFromIso(one.leftFleetOn),
      readOn: daysRead.get(one.id) ?? [],
    })),
  });
}
