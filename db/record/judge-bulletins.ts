import { and, eq, inArray } from 'drizzle-orm';
import { judgeCompiled } from '@/lib/bulletins/applies-to-unit';
import { nextBulletinState, statusOfAnswer } from '@/lib/bulletins/bulletin-status';
import { compileRule } from '@/lib/bulletins/condition';
import { parseRule } from '@/lib/bulletins/parse-rule';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { dayFromIso, localDay } from '@/lib/calendar';
import type { Tx } from '../client';
import { type bulletin, bulletinUnit } from '../schema';

type BulletinRow = typeof bulletin.$inferSelect;
type Pair = typeof bulletinUnit.$inferInsert;

/**
 * Judges units under a bulletin and keeps what people have done. A unit that the rule does not cover
 * has no row unless it had one. Returns the units whose status changed.
 */
export async function judgeBulletin(
  tx: Tx,
  row: BulletinRow,
  units: readonly BulletinFacts[],
  { now, isCorrection }: { readonly now: Date; readonly isCorrection: boolean },
): Promise<string[]> {
  const rule = parseRule(row.rule);
  if (!rule.ok) throw new Error(`bulletin ${row.number} holds a rule that cannot be read`);
  const compiled = compileRule(rule.value, localDay(now, 'UTC'));
  const known = await tx
    .select()
    .from(bulletinUnit)
    .where(
      and(
        eq(bulletinUnit.bulletinId, row.id),
        inArray(
          bulletinUnit.unitId,
          units.map(({ unit }) => unit),
        ),
      ),
    );
  const before = new Map(known.map((pair) => [pair.unitId, pair]));
  const pairs: Pair[] = [];
  const changed: string[] = [];
  for (const facts of units) {
    const { answer, why, missing } = judgeCompiled(compiled, facts);
    const old = before.get(facts.unit);
    if (!old && answer === 'does not') continue;
    const next = old
      ? nextBulletinState(
          row,
          {
            status: old.status,
            reason: old.statusReason ?? '',
            reviewOn: old.reviewOn === null ? null : dayFromIso(old.reviewOn),
          },
          { type: 'judged', answer, why, isCorrection },
        )
      : null;
    const status = next?.ok ? next.value.status : (old?.status ?? statusOfAnswer[answer]);
    const isSame = old?.status === status;
    if (!isSame) changed.push(facts.unit);
    pairs.push({
      bulletinId: row.id,
      unitId: facts.unit,
      applicability: answer,
      why,
      missing: [...missing],
      status,
      statusAt: old && isSame ? old.statusAt : now,
    });
  }
  for (let from = 0; from < pairs.length; from += 2_000) {
    for (const pair of pairs.slice(from, from + 2_000).filter(({ unitId }) => before.has(unitId))) {
      await tx
        .update(bulletinUnit)
        .set(pair)
        .where(and(eq(bulletinUnit.bulletinId, row.id), eq(bulletinUnit.unitId, pair.unitId)));
    }
    const fresh = pairs.slice(from, from + 2_000).filter(({ unitId }) => !before.has(unitId));
    if (fresh.length > 0) await tx.insert(bulletinUnit).values(fresh);
  }
  return changed;
}
