import type { FirstPassage } from '@/lib/analysis/assessment';
import type { DayNumber } from '@/lib/measure';

/** Those quantiles of a first passage that are on record. */
export type PassageDates = Partial<
  Pick<
    FirstPassage,
    'earliest95' | 'earliest90' | 'earliest80' | 'median' | 'latest80' | 'latest90' | 'latest95'
  >
>;

/**
 * Probability that a limit is met by each Monday of the plan and, last, by its end: the stored
 * quantiles of the first passage joined by straight lines from `knownOn`, the newest reading, where
 * nothing has been met. Past the last quantile on record it stays level. A forecast without
 * quantiles (too few readings, beyond 10 years) gives zeros.
 *
 * A median 28 days after a reading on day 0, nothing else on record: weeks 0, 2 and 4 have 0, .25, .5.
 */
export function crossingByWeek(
  passage: PassageDates,
  knownOn: DayNumber,
  firstMonday: DayNumber,
  weekCount: number,
): number[] {
  const points: { readonly day: DayNumber; readonly probability: number }[] = [
    { day: knownOn, probability: 0 },
  ];
  const onRecord = [
    [passage.earliest95, 0.025],
    [passage.earliest90, 0.05],
    [passage.earliest80, 0.1],
    [passage.median, 0.5],
    [passage.latest80, 0.9],
    [passage.latest90, 0.95],
    [passage.latest95, 0.975],
  ] as const;
  for (const [day, probability] of onRecord) if (day != null) points.push({ day, probability });

  const probabilityBy = (day: DayNumber): number => {
    const after = points.findIndex((point) => point.day > day);
    if (after === -1) return points.at(-1)!.probability;
    if (after === 0) return 0;
    const [from, to] = [points[after - 1]!, points[after]!];
    const share = (day - from.day) / (to.day - from.day);
    return from.probability + share * (to.probability - from.probability);
  };
  return Array.from({ length: weekCount + 1 }, (_, week) => probabilityBy(firstMonday + 7 * week));
}
