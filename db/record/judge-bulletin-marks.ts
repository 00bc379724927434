import { and, eq, inArray, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { methodVersion } from '@/lib/analysis/assess-unit';
import { rejudgeBulletins, type UnderBulletins } from '@/lib/analysis/rejudge-bulletins';
import type { BulletinDue, UnitAssessment } from '@/lib/analysis/unit-assessment';
import { withOpenSpell } from '@/lib/analysis/with-open-spell';
import { dayFromIso, isoFromDay, localDay } from '@/lib/calendar';
import type { Tx } from '../client';
import { appendToLedger, newestEntry } from '../ledger';
import { fleetPriorInForce } from '../reads/fleet-prior-in-force';
import { limitsInForce } from '../reads/limits-in-force';
import { bulletinsDueOn } from '../reads/standing-of-units';
import { judgingDue, shed, unit, verdict } from '../schema';
import { judgeUnits } from './judge-unit';
import { openDemandedSpells } from './open-demanded-spells';

export interface JudgeMarks {
  readonly unitIds: readonly string[];
  readonly actor: Actor | null;
  readonly now: Date;
  readonly because: string;
}

const atATime = 2_000;
const inFullAtATime = 500;

/**
 * Judges units after a bulletin began or ceased to ask something of them, units locked. Where the
 * verdict in force is today's, the readings are not followed again: it goes on with the bulletins' own
 * reasons changed. Any other unit, and one whose mark sets another day for its next reading, is judged
 * in full.
 */
export async function judgeBulletinMarks(tx: Tx, judge: JudgeMarks): Promise<void> {
  const inFull: string[] = [];
  for (let from = 0; from < judge.unitIds.length; from += atATime) {
    const unitIds = judge.unitIds.slice(from, from + atATime);
    inFull.push(...(await judgeSome(tx, { ...judge, unitIds })));
  }
  for (let from = 0; from < inFull.length; from += inFullAtATime) {
    const unitIds = inFull.slice(from, from + inFullAtATime);
    await judgeUnits(tx, { ...judge, unitIds });
  }
}

/** Returns the units that must be judged in full. */
async function judgeSome(tx: Tx, judge: JudgeMarks): Promise<string[]> {
  const { unitIds, now } = judge;
  const rows = await verdictsOf(tx, unitIds);
  const due = await bulletinsDueOn(tx, unitIds);
  const prior = await fleetPriorInForce(tx);
  const limitsOf = new Map<string, Awaited<ReturnType<typeof limitsInForce>>>();
  const changed: Changed[] = [];
  const known = new Set<string>();
  for (const row of rows) {
    const limits = limitsOf.get(row.asOf) ?? (await limitsInForce(tx, dayFromIso(row.asOf) ?? 0));
    limitsOf.set(row.asOf, limits);
    const isOfToday =
      (row.touched ?? 'nothing') === 'nothing' &&
      row.asOf === isoFromDay(localDay(now, row.timeZone)) &&
      row.limitsVersion === limits.version &&
      row.fleetPriorId === prior.id &&
      row.methodVersion === methodVersion;
    if (!isOfToday) continue;
    const assessment = { ...row.told, asOf: dayFromIso(row.asOf) ?? 0 };
    const bulletinsDue = due.get(row.unitId) ?? [];
    const horizon = assessment.asOf + limits.horizonDays;
    const after = rejudgeBulletins({ assessment, bulletinsDue, horizon });
    if (!after) continue;
    known.add(row.unitId);
    const { id: verdictId, unitId, mark: from, limitsVersion } = row;
    const before = assessment;
    if (!isOther(before, after)) continue;
    changed.push({ verdictId, unitId, from, limitsVersion, before, after, bulletinsDue });
  }
  if (changed.length > 0) await store(tx, await withDemandedSpells(tx, changed, judge), judge);
  return unitIds.filter((unitId) => !known.has(unitId));
}

interface Changed {
  readonly verdictId: string;
  readonly unitId: string;
  readonly from: UnitAssessment['mark'];
  readonly limitsVersion: number;
  readonly before: Pick<UnitAssessment, 'asOf'> & UnderBulletins;
  readonly after: UnderBulletins;
  readonly bulletinsDue: readonly BulletinDue[];
}

const charted = ['forecast', 'latest', 'idle', 'diagnosis'] as const;

async function verdictsOf(tx: Tx, unitIds: readonly string[]) {
  return tx
    .select({
      id: verdict.id,
      unitId: verdict.unitId,
      mark: verdict.mark,
      asOf: verdict.asOf,
      limitsVersion: verdict.limitsVersion,
      fleetPriorId: verdict.fleetPriorId,
      methodVersion: verdict.methodVersion,
      /** Without what the charts show, which is most of it. */
      told: sql<
        Omit<UnitAssessment, (typeof charted)[number]>
      >`${verdict.assessment} - ${sql.param(charted)}::text[]`,
      timeZone: shed.timeZone,
      touched: judgingDue.touched,
    })
    .from(verdict)
    .innerJoin(unit, eq(unit.id, verdict.unitId))
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(judgingDue, eq(judgingDue.unitId, unit.id))
    .where(and(inArray(verdict.unitId, [...unitIds]), eq(verdict.isCurrent, true)));
}

/** A due date that is far off may change nothing. */
const isOther = (before: UnderBulletins, after: UnderBulletins): boolean =>
  wordsOf(before) !== wordsOf(after);

const wordsOf = ({ mark, reasons, earliestEdge, earliestEdgeCause }: UnderBulletins): string =>
  JSON.stringify([
    mark,
    earliestEdge,
    earliestEdgeCause,
    reasons.map(({ rule, about, on }) => [rule, about, on]),
  ]);

/** The spells that they demand, as reasons of those that had none open. */
async function withDemandedSpells(
  tx: Tx,
  changed: readonly Changed[],
  judge: JudgeMarks,
): Promise<Changed[]> {
  const demanding = changed.map(({ unitId, before, after, bulletinsDue }) => ({
    ...{ unitId, bulletinsDue, assessment: after },
    hasOpenSpell: before.reasons.some(({ rule }) => rule === 'open spell'),
  }));
  const opened = await openDemandedSpells(tx, demanding, judge);
  return changed.map((one) => {
    const opening = opened.get(one.unitId);
    if (!opening) return one;
    const { reasons } = withOpenSpell({ ...one.after, asOf: one.before.asOf }, opening);
    return { ...one, after: { ...one.after, reasons } };
  });
}

/** The verdicts in force go on as new ones, the changes put into them by the database. */
async function store(
  tx: Tx,
  changed: readonly Changed[],
  { actor, now, because }: JudgeMarks,
): Promise<void> {
  const marked = changed.filter(({ from, after }) => from !== after.mark);
  if (marked.length > 0) {
    const [only] = marked;
    await appendToLedger(tx, {
      kind: 'marks changed',
      actor,
      now,
      unitId: marked.length === 1 && only ? only.unitId : null,
      payload: {
        because,
        changes: marked.map(({ unitId, from, after, limitsVersion }) => ({
          ...{ unitId, from, to: after.mark, limitsVersion },
          rules: after.reasons.map(({ rule }) => rule),
        })),
      },
    });
  }
  const ids = changed.map(({ verdictId }) => verdictId);
  await tx.update(verdict).set({ isCurrent: false }).where(inArray(verdict.id, ids));
  const told = changed.map(({ verdictId, after }) => ({
    id: verdictId,
    mark: after.mark,
    earliest_edge_on: after.earliestEdge === null ? null : isoFromDay(after.earliestEdge),
    why: after.reasons[0]?.text ?? '',
    assessment: after,
  }));
  const knownTo = await newestEntry(tx);
  await tx.execute(sql`
    insert into verdict (unit_id, is_current, mark, as_of, known_to, limits_version, fleet_prior_id,
      method_version, assessment, judged_at, earliest_edge_on, why, latest_idle_kpa, latest_read_on,
      score, horizon_probability, wear, reading_due_on, belt_earliest_on, belt_due_on, belt_latest_on)
    select v.unit_id, true, put.mark, v.as_of, ${knownTo}, v.limits_version, v.fleet_prior_id,
      v.method_version, v.assessment || put.assessment, ${now.toISOString()}::timestamptz,
      put.earliest_edge_on, put.why, v.latest_idle_kpa, v.latest_read_on, v.score,
      v.horizon_probability, coalesce(put.assessment -> 'wear', v.wear),
      case when put.mark is distinct from 'Out of service' then v.reading_due_on end, v.belt_earliest_on, v.belt_due_on,
      v.belt_latest_on
    from jsonb_to_recordset(${JSON.stringify(told)}::jsonb) as put (id uuid, mark text,
      earliest_edge_on date, why text, assessment jsonb)
    join verdict v on v.id = put.id`);
}
