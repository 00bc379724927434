import { and, eq, isNull, ne, or, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { ShedDetails } from '@/lib/sheds/shed-details';
import type { Db, Tx } from '../client';
import { appendToLedger } from '../ledger';
import { judgingDue, shed, unit } from '../schema';
import { inTransaction, sqlState } from '../transaction';

interface KeepShed {
  readonly actor: Actor;
  readonly details: ShedDetails;
  readonly isNew: boolean;
  readonly now: Date;
}

/**
 * Puts a shed on record, or corrects one. Another elevation or zone changes what the readings there
 * mean: its units are to be judged again, and their number is given back.
 */
export async function keepShed(
  db: Db,
  { actor, details, isNew, now }: KeepShed,
): Promise<Result<{ readonly toJudge: number }>> {
  requirePermission(actor, 'change sheds');
  const { shedId, ...row } = details;
  try {
    return await inTransaction(db, async (tx): Promise<Result<{ readonly toJudge: number }>> => {
      const [same] = await tx
        .select({ id: shed.id })
        .from(shed)
        .where(
          isNew
            ? or(eq(shed.id, shedId), eq(shed.name, row.name))
            : and(ne(shed.id, shedId), eq(shed.name, row.name)),
        );
      if (same) return taken(same.id === shedId ? 'shedId' : 'name');
      if (isNew) {
        await tx.insert(shed).values({ id: shedId, ...row });
        await appendToLedger(tx, { kind: 'shed added', actor, now, payload: { shedId, ...row } });
        return success({ toJudge: 0 });
      }
      const [before] = await tx.select().from(shed).where(eq(shed.id, shedId)).for('update');
      if (!before) {
        return failure([
          { field: 'name', message: 'That shed is not on record.', mend: 'Load the page again.' },
        ]);
      }
      await tx.update(shed).set(row).where(eq(shed.id, shedId));
      const { id: _, ...was } = before;
      await appendToLedger(tx, {
        kind: 'shed changed',
        actor,
        now,
        payload: { shedId, before: was, after: row },
      });
      const isMoved = was.elevationM !== row.elevationM || was.timeZone !== row.timeZone;
      return success({ toJudge: isMoved ? await judgeAgain(tx, shedId, now) : 0 });
    });
  } catch (error) {
    // Two at once: the second finds its name taken.
    if (sqlState(error) === '23505') return taken('name');
    throw error;
  }
}

async function judgeAgain(tx: Tx, shedId: string, now: Date): Promise<number> {
  const due = tx
    .select({
      unitId: unit.id,
      since: sql<Date>`${now.toISOString()}::timestamptz`.as('since'),
      touched: sql<'age'>`'age'`.as('touched'),
      isCorrection: sql<boolean>`false`.as('is_correction'),
    })
    .from(unit)
    .where(and(eq(unit.shedId, shedId), isNull(unit.leftFleetOn)));
  const units = await tx.$count(unit, and(eq(unit.shedId, shedId), isNull(unit.leftFleetOn)));
  await tx
    .insert(judgingDue)
    .select(due)
    .onConflictDoUpdate({
      target: judgingDue.unitId,
      set: { touched: 'age' },
      setWhere: eq(judgingDue.touched, 'nothing'),
    });
  return units;
}

const words = {
  shedId: 'A shed has this short name.',
  name: 'A shed has this name.',
} as const;

const taken = (field: keyof typeof words): Result<never> =>
  failure([{ field, message: words[field], mend: 'Choose another.' }]);
