import { and, eq, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { judgeCompiled } from '@/lib/bulletins/applies-to-unit';
import type { BulletinStatus } from '@/lib/bulletins/bulletin-state';
import { nextBulletinState, statusOfAnswer } from '@/lib/bulletins/bulletin-status';
import { compileRule } from '@/lib/bulletins/condition';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { fittedInWords } from '@/lib/bulletins/required-parts';
import { type EarlierWork, statusUnderLaterIssue } from '@/lib/bulletins/status-under-later-issue';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { localDay } from '@/lib/calendar';
import { isAnyOf } from '../any-of';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
import { bulletinFacts } from '../reads/bulletin-facts';
import { bulletin, bulletinUnit, type TouchedFacts } from '../schema';
import { stateOfPair } from './move-bulletin';
import { type BulletinUnitRow, putBulletinUnits } from './put-bulletin-units';

export type BulletinRow = typeof bulletin.$inferSelect;

interface JudgeBulletin {
  readonly now: Date;
  /** The record was wrong before: what is open may close again. */
  readonly isCorrection: boolean;
  /** It has no unit yet. */
  readonly isNew?: boolean;
  /** Work under the issue that this one replaces, by unit. */
  readonly earlier?: ReadonlyMap<string, EarlierWork>;
}

export interface StatusChange {
  readonly bulletinId: string;
  readonly unitId: string;
  readonly number: string;
  readonly from: BulletinStatus | null;
  readonly to: BulletinStatus;
}

/**
 * Judges units under a bulletin and keeps what people have done. A unit that the rule does not cover
 * has no row unless it had one. Returns the changes of status.
 */
export async function judgeBulletin(
  tx: Tx,
  row: BulletinRow,
  units: readonly BulletinFacts[],
  { now, isCorrection, isNew, earlier }: JudgeBulletin,
): Promise<StatusChange[]> {
  const rule = parseRule(row.rule);
  if (!rule.ok) throw new Error(`bulletin ${row.number} holds a rule that cannot be read`);
  const compiled = compileRule(rule.value, localDay(now, 'UTC'));
  const before = isNew ? new Map<string, Pair>() : await pairsOnRecord(tx, row.id, units);
  const added: BulletinUnitRow[] = [];
  const anew: BulletinUnitRow[] = [];
  const changed: StatusChange[] = [];
  for (const facts of units) {
    const judgement = judgeCompiled(compiled, facts);
    const { answer, why, missing } = judgement;
    const old = before.get(facts.unit);
    if (!old && answer === 'does not') continue;
    const judged = { type: 'judged', answer, why, isCorrection } as const;
    const next = old && nextBulletinState(row, stateOfPair(old), judged);
    const first = earlier && statusUnderLaterIssue(row, judgement, earlier.get(facts.unit) ?? null);
    const status = next?.ok
      ? next.value.status
      : (old?.status ?? first?.status ?? statusOfAnswer[answer]);
    const isSame = old?.status === status;
    if (isSame && old.applicability === answer && old.why === why) continue;
    if (!isSame) {
      const { id: bulletinId, number } = row;
      changed.push({
        bulletinId,
        unitId: facts.unit,
        number,
        from: old?.status ?? null,
        to: status,
      });
    }
    (old ? anew : added).push({
      bulletinId: row.id,
      unitId: facts.unit,
      applicability: answer,
      why,
      missing: [...missing],
      status,
      statusAt: old && isSame ? old.statusAt : now,
      statusBy: isSame ? old.statusBy : null,
      statusReason: isSame ? old.statusReason : (first?.reason ?? why),
      fittedRevision:
        first?.status === 'done' ? fittedInWords(row.requiredParts, facts.fitted) : null,
    });
  }
  await putBulletinUnits(tx, added, 'new');
  await putBulletinUnits(tx, anew, 'on record');
  return changed;
}

type Pair = typeof bulletinUnit.$inferSelect;

async function pairsOnRecord(tx: Tx, bulletinId: string, units: readonly BulletinFacts[]) {
  const ids = units.map(({ unit }) => unit);
  const known = await tx
    .select()
    .from(bulletinUnit)
    .where(and(eq(bulletinUnit.bulletinId, bulletinId), isAnyOf(bulletinUnit.unitId, ids)));
  return new Map<string, Pair>(known.map((pair) => [pair.unitId, pair]));
}

const asksFor = (touched: Exclude<TouchedFacts, 'nothing'>) => {
  const words = {
    any: '.',
    readings: '"(symptom|odometer)"',
    parts: '"fitted"',
    age: '"ageMonths"',
  } as const;
  return sql`${bulletin.rule}::text ~ ${words[touched]}`;
};

interface JudgeUnits {
  readonly touched: Exclude<TouchedFacts, 'nothing'>;
  readonly isCorrection: boolean;
  readonly because: string;
  readonly actor: Actor | null;
  readonly now: Date;
}

/** Judges every bulletin in force that the change may touch, for some units, locked by the caller. */
export async function judgeBulletinsOfUnits(
  tx: Tx,
  unitIds: readonly string[],
  { touched, isCorrection, because, actor, now }: JudgeUnits,
): Promise<StatusChange[]> {
  const inForce = await tx
    .select()
    .from(bulletin)
    .where(
      and(
        asksFor(touched),
        sql`${bulletin.id} not in (select supersedes_id from bulletin where supersedes_id is not null)`,
      ),
    );
  if (inForce.length === 0 || unitIds.length === 0) return [];
  const facts = await bulletinFacts(tx, { units: unitIds });
  const changes: StatusChange[] = [];
  for (const row of inForce) {
    changes.push(...(await judgeBulletin(tx, row, facts, { now, isCorrection })));
  }
  if (changes.length > 0) {
    await appendToLedger(tx, {
      kind: 'bulletins judged',
      actor,
      now,
      unitId: unitIds.length === 1 ? (unitIds[0] ?? null) : null,
      payload: {
        because,
        changes: changes.map(({ bulletinId, unitId, number, from, to }) => ({
          bulletinId,
          unitId,
          number,
          from,
          to,
        })),
      },
    });
  }
  return changes;
}
