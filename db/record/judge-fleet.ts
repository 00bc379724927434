import { asc, inArray, isNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Db } from '../client';
import { unit } from '../schema';
import { inTransaction } from '../transaction';
import { judgeUnits } from './judge-unit';

interface JudgeFleet {
  readonly actor: Actor | null;
  readonly now: Date;
  readonly because: string;
}

const batch = 20;

/** Judges every unit of the fleet, some at a time, so that readings get in between. Returns how many. */
export async function judgeFleet(db: Db, judge: JudgeFleet): Promise<number> {
  const units = await db
    .select({ id: unit.id })
    .from(unit)
    .where(isNull(unit.leftFleetOn))
    .orderBy(asc(unit.id));
  for (let from = 0; from < units.length; from += batch) {
    const unitIds = units.slice(from, from + batch).map(({ id }) => id);
    await inTransaction(db, async (tx) => {
      await tx
        .select({ id: unit.id })
        .from(unit)
        .where(inArray(unit.id, unitIds))
        .orderBy(asc(unit.id))
        .for('no key update');
      await judgeUnits(tx, { ...judge, unitIds });
    });
  }
  return units.length;
}
