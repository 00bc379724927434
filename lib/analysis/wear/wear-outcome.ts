import type { FirstPassage, ForecastPoint } from '@/lib/analysis/assessment';
import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import { errorsInHindsight } from '@/lib/analysis/wear/errors-in-hindsight';
import { firstPassages, type PassageQuestion } from '@/lib/analysis/wear/first-passage';
import { levelForecast } from '@/lib/analysis/wear/level-forecast';
import { scoreOf } from '@/lib/analysis/wear/score-of';
import { levelOf } from '@/lib/analysis/wear/wear-posterior';
import type { NewestVisit, WearStep } from '@/lib/analysis/wear/wear-track';
import type { WearVisit } from '@/lib/analysis/wear/wear-visits';
import { type DayNumber, type Kilopascals, kilopascalsPerUnit } from '@/lib/measure';

export interface WearOutcome {
  /** Visits. */
  readonly count: number;
  /** Smoothed probability of meeting the wear limit within a year of the newest visit; null without a visit. */
  readonly score: number | null;
  /** The same at the visit before. */
  readonly scoreBefore: number | null;
  readonly probabilityWithin1Year: number | null;
  /** The highest score if an unconfirmed newest visit were true; 0 where there is none. */
  readonly scoreIfTrue: number;
  /** The newest visit asks for a re-read and no second reading that day agrees. */
  readonly unconfirmed: boolean;
  readonly steps: readonly WearStep[];
  /** Expected idle vacuum at the newest visit and its standard deviation. */
  readonly levelNow: Kilopascals | null;
  readonly levelDeviation: Kilopascals | null;
  /** Probability, in the light of all visits, that each was in error. */
  readonly hindsight: () => readonly number[];
  passage(limitSle: Kilopascals, question: PassageQuestion): FirstPassage;
  /** Several limits asked together, at little more than the cost of one. */
  passages(limitsSle: readonly Kilopascals[], question: PassageQuestion): FirstPassage[];
  forecast(days: readonly DayNumber[]): ForecastPoint[];
}

const psi = kilopascalsPerUnit.psi;
export function outcomeOf(
  visits: readonly WearVisit[],
  prior: FleetPrior,
  steps: readonly WearStep[],
  newest: NewestVisit | null,
  probabilityBefore: number | null,
  scoreBefore: number | null,
  hindsight = () => errorsInHindsight(visits, prior),
): WearOutcome {
  const posterior = newest?.posterior ?? null;
  const now = newest?.within1Year ?? null;
  const day = visits.at(-1)?.day ?? null;
  const level = posterior && levelOf(posterior, 0);
  const passages: WearOutcome['passages'] = (limitsSle, question) =>
    firstPassages(
      posterior,
      day,
      visits.length,
      limitsSle.map((limitSle) => limitSle / psi),
      question,
    );
  return {
    count: visits.length,
    score: scoreOf(now, probabilityBefore, prior.alarmPower),
    scoreBefore,
    scoreIfTrue: scoreOf(newest?.within1YearIfTrue ?? 0, probabilityBefore, prior.alarmPower) ?? 0,
    probabilityWithin1Year: now,
    unconfirmed: newest?.unconfirmed ?? false,
    steps,
    levelNow: level && level.mean * psi,
    levelDeviation: level && level.deviation * psi,
    hindsight,
    passage: (limitSle, question) => passages([limitSle], question)[0]!,
    passages,
    forecast: (days) => (posterior && day !== null ? levelForecast(posterior, day, days) : []),
  };
}
