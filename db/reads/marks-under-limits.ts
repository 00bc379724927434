import { and, asc, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Mark } from '@/lib/analysis/assessment';
import type { Limits } from '@/lib/analysis/limits';
import type { Db } from '../client';
import { assessOnRecord } from '../record/judge-unit';
import { unit, verdict } from '../schema';

export interface MarkChange {
  readonly unitId: string;
  readonly from: Mark | null;
  readonly to: Mark | null;
  readonly why: string;
}

const batch = 50;

/** Units whose mark another set of limits would change, judged on the record as it is. */
export async function marksUnderLimits(
  db: Db,
  actor: Actor,
  limits: Limits,
  now: Date,
): Promise<readonly MarkChange[]> {
  requirePermission(actor, 'see units');
  const units = await db
    .select({ id: unit.id, mark: verdict.mark })
    .from(unit)
    .innerJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .where(isNull(unit.leftFleetOn))
    .orderBy(asc(unit.id));
  const changes: MarkChange[] = [];
  for (let from = 0; from < units.length; from += batch) {
    const some = units.slice(from, from + batch);
    const ids = some.map(({ id }) => id);
    const tried = await db.transaction((tx) => assessOnRecord(tx, ids, now, { limits }));
    for (const { unitId, assessment } of tried) {
      const before = some.find(({ id }) => id === unitId)?.mark ?? null;
      if (before === assessment.mark) continue;
      changes.push({
        unitId,
        from: before,
        to: assessment.mark,
        why: assessment.reasons[0]?.text ?? '',
      });
    }
  }
  return changes;
}
