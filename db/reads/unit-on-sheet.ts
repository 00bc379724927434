import { and, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { defaultLimits, type Limits } from '@/lib/analysis/limits';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { Db, Tx } from '../client';
import { judgingDue, limitSet, shed, unit, verdict } from '../schema';

export interface UnitOnSheet {
  readonly unit: typeof unit.$inferSelect;
  readonly shed: typeof shed.$inferSelect;
  /** Null until the unit was judged for the first time. */
  readonly verdict: {
    readonly assessment: UnitAssessment;
    readonly judgedAt: Date;
  } | null;
  /** An import has changed its record, and the verdict does not know of it yet. */
  readonly isBeingJudged: boolean;
  /** The limits that the verdict was reached by. */
  readonly limits: Limits;
}

/** One unit and its verdict; null where there is no such unit. Throws for a shed that the actor may not see. */
export async function unitOnSheet(
  db: Db | Tx,
  actor: Actor,
  unitId: string,
): Promise<UnitOnSheet | null> {
  requirePermission(actor, 'see units');
  const [row] = await db
    .select({ unit, shed, verdict, limits: limitSet, dueSince: judgingDue.since })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, and(eq(verdict.unitId, unit.id), eq(verdict.isCurrent, true)))
    .leftJoin(limitSet, eq(limitSet.version, verdict.limitsVersion))
    .leftJoin(judgingDue, eq(judgingDue.unitId, unit.id))
    .where(eq(unit.id, unitId));
  if (!row) return null;
  requirePermission(actor, 'see units', row.unit.shedId);
  return {
    unit: row.unit,
    shed: row.shed,
    verdict: row.verdict && {
      assessment: row.verdict.assessment,
      judgedAt: row.verdict.judgedAt,
    },
    isBeingJudged: row.dueSince !== null,
    limits: row.limits
      ? { ...defaultLimits, ...row.limits.values, version: row.limits.version }
      : defaultLimits,
  };
}
