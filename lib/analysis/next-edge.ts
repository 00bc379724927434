import type { WhyNoDate } from '@/lib/analysis/assessment';
import type { EdgeCause, UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { DayNumber } from '@/lib/measure';

/** What a unit meets first, with its middle date and its 80% interval. */
export interface NextEdge {
  readonly cause: EdgeCause | null;
  readonly median: DayNumber | null;
  readonly earliest80: DayNumber | null;
  readonly latest80: DayNumber | null;
  readonly whyNone: WhyNoDate | null;
}

/**
 * The forecast behind a unit's earliest edge, for lists that are sorted by it. Days.
 * A bulletin has one date; a limit that is passed already has none.
 * Thin data: the reason why the wear forecast has no date.
 *
 * @example nextEdge({ ...assessment, earliestEdgeCause: 'belt' }) has the belt's due day as median
 */
export function nextEdge(
  assessment: Pick<UnitAssessment, 'earliestEdge' | 'earliestEdgeCause' | 'wear' | 'stop' | 'belt'>,
): NextEdge {
  const { earliestEdgeCause: cause, earliestEdge, wear, stop, belt } = assessment;
  const dates = (from: Omit<NextEdge, 'cause'>): NextEdge => ({
    cause,
    median: from.median,
    earliest80: from.earliest80,
    latest80: from.latest80,
    whyNone: from.whyNone,
  });
  if (cause === 'stop') return dates(stop);
  if (cause === 'belt') return dates({ ...belt, median: belt.due, whyNone: null });
  if (cause === 'bulletin') {
    return { cause, median: earliestEdge, earliest80: null, latest80: null, whyNone: null };
  }
  if (cause === 'limit passed') {
    return { cause, median: null, earliest80: null, latest80: null, whyNone: null };
  }
  return dates(wear);
}
