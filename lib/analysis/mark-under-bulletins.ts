import type { Mark, Reason } from '@/lib/analysis/assessment';
import { reasonsOf } from '@/lib/analysis/rules';
import { bulletinFindings } from '@/lib/analysis/standing-findings';
import type { BulletinDue } from '@/lib/analysis/unit-assessment';
import { rankOfMark } from '@/lib/analysis/verdict';
import type { DayNumber } from '@/lib/measure';

interface UnderBulletins {
  /** Every reason of the verdict in force. */
  readonly reasons: readonly Reason[];
  /** Number of the bulletin that asks nothing any more; null where each one stays. */
  readonly without: string | null;
  /** What would be due as well. */
  readonly due: BulletinDue | null;
  /** Last day of the horizon within which a due date counts. */
  readonly horizon: DayNumber;
}

/**
 * Mark and first reason of a unit if one bulletin were due on it and another not, all else as its
 * verdict has it. A bulletin rests on no reading, so that none is judged again.
 *
 * Thin data: a unit without another reason is Holding.
 * Example: Holding, with a mandatory bulletin due in 30 days, is Book in.
 */
export function markUnderBulletins({ reasons, without, due, horizon }: UnderBulletins): {
  readonly mark: Mark;
  readonly why: string;
} {
  const kept = reasons.filter(
    ({ rule, about }) => !(isOfBulletin(rule) && about !== undefined && about === without),
  );
  const added = reasonsOf(bulletinFindings(due ? [due] : [], horizon));
  const [inside] = reasonsOf([{ rule: 'inside limits' }]);
  const worst = [...kept, ...added].reduce<Reason | undefined>(
    (first, one) => (first && rankOfMark(first.mark) <= rankOfMark(one.mark) ? first : one),
    undefined,
  );
  const { mark, text } = (worst ?? inside) as Reason;
  return { mark, why: text };
}

const isOfBulletin = (rule: string): boolean =>
  rule === 'bulletin due' || rule === 'do-not-drive bulletin';
