import { and, asc, eq, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { shed, unit, verdict } from '../schema';
import { unitsSeenBy } from './units-seen-by';

export interface ProvingUnit {
  readonly unitId: string;
  readonly shedName: string;
  /** Since when it is back, and how many good readings it owes. */
  readonly why: string;
  readonly lastReadOn: string | null;
  readonly nextReadingDue: DayNumber | null;
}

/** Units that are back and prove themselves, the next reading due first. */
export async function provingUnits(db: Db | Tx, actor: Actor): Promise<ProvingUnit[]> {
  const nextReadingDue = sql<number | null>`(${verdict.assessment} ->> 'nextReadingDue')::float8`;
  return db
    .select({
      unitId: unit.id,
      shedName: shed.name,
      why: verdict.why,
      lastReadOn: verdict.latestReadOn,
      nextReadingDue,
    })
    .from(verdict)
    .innerJoin(unit, eq(unit.id, verdict.unitId))
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .where(and(eq(verdict.isCurrent, true), eq(verdict.mark, 'Proving'), unitsSeenBy(actor)))
    .orderBy(asc(nextReadingDue), asc(unit.id));
}
