import { and, eq, inArray } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { assessUnit } from '@/lib/analysis/assess-unit';
import { defaultLimits, type Limits } from '@/lib/analysis/limits';
import type { BulletinDue, UnitAssessment } from '@/lib/analysis/unit-assessment';
import { withOpenSpell } from '@/lib/analysis/with-open-spell';
import { isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { Tx } from '../client';
import { appendToLedger, newestEntry } from '../ledger';
import { assessmentInputs } from '../reads/assessment-inputs';
import { limitSet, verdict } from '../schema';
import { openDemandedSpells } from './open-demanded-spells';

export type StoredVerdict = typeof verdict.$inferSelect;

interface Judge {
  readonly actor: Actor | null;
  readonly now: Date;
  /** What gave cause: `reading recorded`, `limits changed`, `nightly sweep`. */
  readonly because: string;
}

/** Judges one unit in the caller's transaction and stores the verdict. The unit row is locked already. */
export async function judgeUnit(tx: Tx, input: Judge & { unitId: string }): Promise<StoredVerdict> {
  const [stored] = await judgeUnits(tx, { ...input, unitIds: [input.unitId] });
  if (!stored) throw new Error(`unit ${input.unitId} is not on record`);
  return stored;
}

/** Judges units together: each verdict stands as if it had been judged alone. */
export async function judgeUnits(
  tx: Tx,
  { unitIds, actor, now, because }: Judge & { readonly unitIds: readonly string[] },
): Promise<StoredVerdict[]> {
  if (unitIds.length === 0) return [];
  const assessed = await assessOnRecord(tx, unitIds, now);
  const stoppedBy = await openDemandedSpells(tx, assessed, { actor, now });
  const judged = assessed.map((one) => {
    const stopped = stoppedBy.get(one.unitId);
    return stopped ? { ...one, assessment: withOpenSpell(one.assessment, stopped) } : one;
  });
  return store(tx, judged, { actor, now, because });
}

interface OnRecord {
  readonly unitId: string;
  readonly assessment: UnitAssessment;
  readonly limits: Limits;
  readonly fleetPriorId: number | null;
  readonly hasOpenSpell: boolean;
  readonly bulletinsDue: readonly BulletinDue[];
}

/** What the record says of each unit on the day of its shed. Reads only. */
export async function assessOnRecord(
  tx: Tx,
  unitIds: readonly string[],
  now: Date,
  trial?: { readonly limits: Limits },
): Promise<OnRecord[]> {
  const inputs = await assessmentInputs(tx, unitIds, now);
  return inputs.map(({ unit, input: found, fleetPriorId }) => {
    const input = { ...found, limits: trial?.limits ?? found.limits };
    return {
      unitId: unit.id,
      limits: input.limits,
      fleetPriorId,
      hasOpenSpell: found.openSpell != null,
      bulletinsDue: found.bulletinsDue ?? [],
      assessment: assessUnit(input),
    };
  });
}

async function store(
  tx: Tx,
  judged: readonly OnRecord[],
  { actor, now, because }: Judge,
): Promise<StoredVerdict[]> {
  if (judged.length === 0) return [];
  const ids = judged.map(({ unitId }) => unitId);
  const before = await tx
    .update(verdict)
    .set({ isCurrent: false })
    .where(and(inArray(verdict.unitId, ids), eq(verdict.isCurrent, true)))
    .returning({ unitId: verdict.unitId, mark: verdict.mark });
  const markBefore = new Map(before.map(({ unitId, mark }) => [unitId, mark]));
  const changes = judged
    .filter(({ unitId, assessment }) => markBefore.get(unitId) !== assessment.mark)
    .map(({ unitId, assessment }) => ({
      unitId,
      from: markBefore.get(unitId) ?? null,
      to: assessment.mark,
      rules: assessment.reasons.map(({ rule }) => rule),
      limitsVersion: assessment.limitsVersion,
    }));
  if (changes.length > 0) {
    await appendToLedger(tx, {
      kind: 'marks changed',
      actor,
      now,
      unitId: changes.length === 1 ? (changes[0]?.unitId ?? null) : null,
      payload: { because, changes },
    });
  }
  if (judged.some(({ limits }) => limits === defaultLimits)) await keepDefaultLimits(tx, now);
  const knownTo = await newestEntry(tx);
  return tx
    .insert(verdict)
    .values(
      judged.map(({ unitId, assessment, fleetPriorId }) => ({
        unitId,
        isCurrent: true,
        mark: assessment.mark,
        asOf: isoFromDay(assessment.asOf),
        knownTo,
        limitsVersion: assessment.limitsVersion,
        fleetPriorId,
        methodVersion: assessment.methodVersion,
        assessment,
        judgedAt: now,
        earliestEdgeOn: isoOrNull(assessment.earliestEdge),
        why: assessment.reasons[0]?.text ?? '',
        latestIdleKpa: assessment.idle.latestAsRead,
        latestReadOn: isoOrNull(assessment.latest?.readOn ?? null),
        score: assessment.wear.score,
        horizonProbability: assessment.wear.probabilityWithinHorizon,
        wear: assessment.wear,
        readingDueOn: isoOrNull(assessment.nextReadingDue),
        beltEarliestOn: isoOrNull(assessment.belt.earliest80),
        beltDueOn: isoOrNull(assessment.belt.due),
        beltLatestOn: isoOrNull(assessment.belt.latest80),
      })),
    )
    .returning();
}

const isoOrNull = (day: DayNumber | null) => (day === null ? null : isoFromDay(day));

/** A fleet that has approved no limits yet is judged by the defaults, on record as version 0. */
async function keepDefaultLimits(tx: Tx, now: Date): Promise<void> {
  const { version, ...values } = defaultLimits;
  await tx
    .insert(limitSet)
    .values({
      version,
      values,
      effectiveFrom: '1970-01-01',
      source: 'Defaults of a new fleet: common practice, no published source.',
      reason: 'No set has been approved yet.',
      state: 'approved',
      proposedAt: now,
      decidedAt: now,
    })
    .onConflictDoNothing();
}
