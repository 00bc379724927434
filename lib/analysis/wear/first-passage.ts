import type { FirstPassage } from '@/lib/analysis/assessment';
import {
  belowLimit,
  crossedBy,
  crossedWithin,
  crossingQuantile,
} from '@/lib/analysis/wear/below-limit';
import type { WearPosterior } from '@/lib/analysis/wear/wear-posterior';
import type { DayNumber } from '@/lib/measure';

/** Fewer visits than this give no dates. */
export const fewestVisits = 4;

export interface PassageQuestion {
  readonly asOf: DayNumber;
  /** Day the next reading is due; null asks for none. */
  readonly nextReadingOn: DayNumber | null;
  readonly horizonDays: number;
}

const noDates = {
  earliest95: null,
  earliest90: null,
  earliest80: null,
  median: null,
  latest80: null,
  latest90: null,
  latest95: null,
};

/**
 * When the true level first lies below each of `limits`, psi. Probabilities count from the newest visit:
 * a year after it, by the next reading, and by `horizonDays` after `asOf`. A date is null where the
 * crossing is that likely only beyond 10 years.
 */
export function firstPassages(
  posterior: WearPosterior | null,
  newest: DayNumber | null,
  visits: number,
  limits: readonly number[],
  question: PassageQuestion,
): FirstPassage[] {
  if (!posterior || newest === null) return limits.map(() => noPassage);
  return crossedBy(posterior, limits).map((crossed, k) =>
    passageOf(posterior, limits[k]!, crossed, newest, visits, question),
  );
}

const noPassage: FirstPassage = {
  probabilityWithin1Year: null,
  probabilityBeforeNextReading: null,
  probabilityWithinHorizon: null,
  ...noDates,
  whyNone: 'no reading',
};

function passageOf(
  posterior: WearPosterior,
  limit: number,
  crossed: Float64Array,
  newest: DayNumber,
  visits: number,
  question: PassageQuestion,
): FirstPassage {
  const dateOf = (probability: number): DayNumber | null => {
    const ahead = crossingQuantile(crossed, probability);
    return ahead === null ? null : newest + Math.round(ahead);
  };
  const median = dateOf(0.5);
  return {
    probabilityWithin1Year: belowLimit(posterior, limit, 365),
    probabilityBeforeNextReading:
      question.nextReadingOn === null
        ? null
        : crossedWithin(crossed, question.nextReadingOn - newest),
    probabilityWithinHorizon: crossedWithin(crossed, question.asOf + question.horizonDays - newest),
    ...(visits < fewestVisits
      ? noDates
      : {
          earliest95: dateOf(0.025),
          earliest90: dateOf(0.05),
          earliest80: dateOf(0.1),
          median,
          latest80: dateOf(0.9),
          latest90: dateOf(0.95),
          latest95: dateOf(0.975),
        }),
    whyNone: visits < fewestVisits ? 'too few' : median === null ? 'beyond 10 years' : null,
  };
}
