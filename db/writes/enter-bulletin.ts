import { type Actor, requirePermission } from '@/lib/access';
import type { BulletinKind } from '@/lib/bulletins/bulletin-state';
import { parseRule } from '@/lib/bulletins/parse-rule';
import { failure, type Problem, type Result, success } from '@/lib/result';
import type { Db } from '../client';
import { appendToLedger } from '../ledger';
import { bulletinFacts } from '../reads/bulletin-facts';
import { judgeBulletin } from '../record/judge-bulletins';
import { judgeUnits } from '../record/judge-unit';
import { bulletin } from '../schema';
import { inTransaction, sqlState } from '../transaction';

export interface BulletinDraft {
  readonly number: string;
  readonly issue: string;
  readonly title: string;
  readonly issuedOn: string;
  readonly kind: BulletinKind;
  readonly dueOn: string | null;
  readonly rule: unknown;
  readonly conditions: string;
  readonly actions: string;
  readonly hours: number;
  readonly requiredPart: string | null;
  readonly requiredRevision: string | null;
  readonly source: string;
}

export interface Entered {
  readonly bulletinId: string;
  readonly unitsCovered: number;
}

/** Enters a bulletin, judges every unit under it and the verdicts that it touches. */
export async function enterBulletin(
  db: Db,
  {
    actor,
    draft,
    now,
  }: { readonly actor: Actor; readonly draft: BulletinDraft; readonly now: Date },
): Promise<Result<Entered>> {
  requirePermission(actor, 'edit bulletins');
  const rule = parseRule(draft.rule);
  if (!rule.ok) return rule;
  try {
    return await inTransaction(db, async (tx) => {
      const [row] = await tx
        .insert(bulletin)
        .values({ ...draft, rule: rule.value, enteredBy: actor.personId, enteredAt: now })
        .returning();
      if (!row) throw new Error('the bulletin was not stored');
      const units = await bulletinFacts(tx);
      const changed = await judgeBulletin(tx, row, units, { now, isCorrection: false });
      await appendToLedger(tx, {
        kind: 'bulletin entered',
        actor,
        now,
        payload: {
          number: draft.number,
          issue: draft.issue,
          kind: draft.kind,
          rule: JSON.parse(JSON.stringify(rule.value)),
          source: draft.source,
          unitsTouched: changed.length,
        },
      });
      if (draft.kind === 'mandatory') {
        for (let from = 0; from < changed.length; from += 500) {
          const unitIds = changed.slice(from, from + 500);
          await judgeUnits(tx, {
            unitIds,
            actor,
            now,
            because: `bulletin ${draft.number} entered`,
          });
        }
      }
      return success({ bulletinId: row.id, unitsCovered: changed.length });
    });
  } catch (error) {
    if (sqlState(error) !== '23505') throw error;
    const problem: Problem = {
      field: 'number',
      message: `Bulletin ${draft.number}, issue ${draft.issue} is on record already.`,
      mend: 'Enter a later issue, or change the number.',
    };
    return failure([problem]);
  }
}
