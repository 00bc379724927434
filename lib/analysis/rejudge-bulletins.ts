import { earliestEdge } from '@/lib/analysis/earliest-edge';
import { reasonsOf, ruleNames } from '@/lib/analysis/rules';
import { bulletinFindings } from '@/lib/analysis/standing-findings';
import type { BulletinDue, UnitAssessment } from '@/lib/analysis/unit-assessment';
import { oneOfEach, verdictFrom, whatChangesItBack } from '@/lib/analysis/verdict';
import type { DayNumber } from '@/lib/measure';

type RestingOnNextReading = Pick<UnitAssessment, 'nextReadingDue' | 'wear' | 'stop'>;

/** What an assessment says differently once other bulletins are due. */
export type UnderBulletins = Pick<
  UnitAssessment,
  'mark' | 'reasons' | 'earliestEdge' | 'earliestEdgeCause' | 'mayGoOut' | 'whatChangesItBack'
> &
  Partial<RestingOnNextReading>;

interface Rejudge {
  /** Its own bulletins are forgotten. */
  readonly assessment: Pick<
    UnitAssessment,
    'mark' | 'standing' | 'reasons' | 'stop' | 'wear' | 'belt' | 'asOf' | 'whatChangesItBack'
  >;
  /** Every bulletin that is due on the unit. */
  readonly bulletinsDue: readonly BulletinDue[];
  /** Last day of the horizon within which a due date counts. */
  readonly horizon: DayNumber;
}

/** By these marks the next reading is due on another day, and with it what is told of the time until then. */
const setsNextReading = (mark: UnitAssessment['mark']): boolean =>
  mark === 'Drifting' || mark === 'Out of service';

/** Out of service no next reading is due, and nothing is told of the time until one. */
const withoutNextReading = ({
  wear,
  stop,
}: Pick<UnitAssessment, 'wear' | 'stop'>): RestingOnNextReading => ({
  nextReadingDue: null,
  wear: { ...wear, probabilityBeforeNextReading: null },
  stop: { ...stop, probabilityBeforeNextReading: null },
});

/**
 * The same day's assessment under other bulletins, as `assessUnit` would give it, without following the
 * readings again: a bulletin rests on none of them. Null where the mark sets another day for the next
 * reading, so that the whole must be judged.
 *
 * Example: Holding, with a mandatory bulletin due in 30 days, is Book in.
 */
export function rejudgeBulletins({
  assessment,
  bulletinsDue,
  horizon,
}: Rejudge): UnderBulletins | null {
  const { standing, stop, wear, belt, asOf } = assessment;
  const kept = assessment.reasons.filter(({ rule }) => !restsOnBulletins.has(rule));
  const added = reasonsOf(oneOfEach(bulletinFindings(bulletinsDue, horizon)));
  const rank = ({ rule }: { readonly rule: string }) =>
    (ruleNames as readonly string[]).indexOf(rule);
  const verdict = verdictFrom([...kept, ...added].sort((one, other) => rank(one) - rank(other)));
  const mark = standing === 'in use' ? verdict.mark : null;
  const isStopped = mark === 'Out of service' && assessment.mark !== mark;
  if (mark !== assessment.mark && !isStopped) {
    if (setsNextReading(mark) || setsNextReading(assessment.mark)) return null;
  }
  const { reasons } = verdict;
  const edge = earliestEdge({ reasons, stop, wear, belt, bulletins: bulletinsDue, asOf });
  return {
    mark,
    reasons,
    earliestEdge: edge?.on ?? null,
    earliestEdgeCause: edge?.cause ?? null,
    mayGoOut: mark !== null && mark !== 'Out of service',
    whatChangesItBack:
      standing === 'in use' ? whatChangesItBack(verdict) : assessment.whatChangesItBack,
    ...(isStopped && withoutNextReading(assessment)),
  };
}

const restsOnBulletins: ReadonlySet<string> = new Set([
  'bulletin due',
  'do-not-drive bulletin',
  'inside limits',
]);
