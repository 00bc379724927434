import type { FirstPassage, ForecastPoint } from '@/lib/analysis/assessment';
import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import type { DayNumber, Kilopascals } from '@/lib/measure';

/** One visit of a segment. Several points on a day count as one visit, at their median. */
export interface WearPoint {
  readonly day: DayNumber;
  readonly idleSle: Kilopascals;
  /** Second signal, used where the prior has learnt how it follows idle. */
  readonly lowestSle?: Kilopascals | null;
}

export interface WearStep {
  readonly day: DayNumber;
  /** Standardised surprise of the visit before it was taken in. */
  readonly z: number;
  /** Probability, at the time, that the visit was in error. */
  readonly readingInError: number;
  /** |z| > 3: read again the same day. */
  readonly asksReread: boolean;
}

export interface PassageQuestion {
  readonly asOf: DayNumber;
  /** Day the next reading is due; null asks for none. */
  readonly nextReadingOn: DayNumber | null;
  readonly horizonDays: number;
}

export interface WearOutcome {
  /** Visits. */
  readonly count: number;
  /** Smoothed probability of meeting the wear limit within a year of the newest visit; null without a visit. */
  readonly score: number | null;
  readonly probabilityWithin1Year: number | null;
  /** The newest visit asks for a re-read and no second reading that day agrees. */
  readonly unconfirmed: boolean;
  readonly steps: readonly WearStep[];
  /** Expected idle vacuum at the newest visit and its standard deviation. */
  readonly levelNow: Kilopascals | null;
  readonly levelDeviation: Kilopascals | null;
  /** Probability, in the light of all visits, that each was in error. */
  hindsight(): readonly number[];
  passage(limitSle: Kilopascals, question: PassageQuestion): FirstPassage;
  forecast(days: readonly DayNumber[]): ForecastPoint[];
}

export declare function assessWear(
  points: readonly WearPoint[],
  prior: FleetPrior,
  limitSle?: Kilopascals,
): WearOutcome;
