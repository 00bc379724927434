import type { FirstPassage, ForecastPoint } from '@/lib/analysis/assessment';
import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import { defaultLimits } from '@/lib/analysis/limits';
import { belowLimit } from '@/lib/analysis/wear/below-limit';
import { errorsInHindsight } from '@/lib/analysis/wear/errors-in-hindsight';
import { firstPassage, type PassageQuestion } from '@/lib/analysis/wear/first-passage';
import { levelForecast } from '@/lib/analysis/wear/level-forecast';
import { levelOf, type WearPosterior } from '@/lib/analysis/wear/wear-posterior';
import { surprising, WearTrack } from '@/lib/analysis/wear/wear-track';
import {
  isConfirmed,
  visitsOf,
  type WearPoint,
  type WearVisit,
} from '@/lib/analysis/wear/wear-visits';
import { type DayNumber, type Kilopascals, kilopascalsPerUnit } from '@/lib/measure';

export type { PassageQuestion } from '@/lib/analysis/wear/first-passage';
export type { WearPoint } from '@/lib/analysis/wear/wear-visits';

export interface WearStep {
  readonly day: DayNumber;
  /** Standardised surprise of the visit before it was taken in. */
  readonly z: number;
  /** Probability, at the time, that the visit was in error. */
  readonly readingInError: number;
  /** |z| > 3: read again the same day. */
  readonly asksReread: boolean;
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

const psi = kilopascalsPerUnit.psi;
const track = new WearTrack();

/**
 * Trend, drift and forecast of one segment in one: the wear-curve library, an empirical Bayes mixture
 * of curves of lost vacuum whose level is followed by Kalman filters with soft rejection of errors.
 * `score` is P_n^0.7 P_(n-1)^0.3, P the probability of lying below `limitSle` (SLE) a year after the
 * visit. No visit gives nulls; below four visits a passage says `too few`.
 *
 * `assessWear([], defaultFleetPrior).score` is null.
 */
export function assessWear(
  points: readonly WearPoint[],
  prior: FleetPrior,
  limitSle: Kilopascals = defaultLimits.idleCautionSle,
): WearOutcome {
  const visits = visitsOf(points);
  const steps: WearStep[] = [];
  const limit = limitSle / psi;
  let before: number | null = null;
  let within1Year: number | null = null;
  let posterior: WearPosterior | null = null;
  let unconfirmed = false;
  track.start(prior);
  for (let k = 0; k < visits.length; k++) {
    const visit = visits[k]!;
    track.take(visit.day, visit.idle);
    const { z, readingInError } = track.surprise;
    const asksReread = Math.abs(z) > surprising;
    steps.push({ day: visit.day, z, readingInError, asksReread });
    if (k < visits.length - 2) continue;
    unconfirmed = asksReread && !isConfirmed(visit, prior);
    posterior = track.posterior(unconfirmed);
    before = within1Year;
    within1Year = belowLimit(posterior, limit, 365);
  }
  return outcomeOf({ visits, prior, steps, posterior, unconfirmed, before, within1Year });
}

function outcomeOf(found: {
  visits: readonly WearVisit[];
  prior: FleetPrior;
  steps: readonly WearStep[];
  posterior: WearPosterior | null;
  unconfirmed: boolean;
  before: number | null;
  within1Year: number | null;
}): WearOutcome {
  const { visits, prior, posterior, before, within1Year } = found;
  const newest = visits.at(-1)?.day ?? null;
  const level = posterior && levelOf(posterior, 0);
  return {
    count: visits.length,
    score: within1Year === null ? null : within1Year ** 0.7 * (before ?? within1Year) ** 0.3,
    probabilityWithin1Year: within1Year,
    unconfirmed: found.unconfirmed,
    steps: found.steps,
    levelNow: level && level.mean * psi,
    levelDeviation: level && level.deviation * psi,
    hindsight: () => errorsInHindsight(visits, prior),
    passage: (limitSle, question) =>
      firstPassage(posterior, newest, visits.length, limitSle / psi, question),
    forecast: (days) =>
      posterior && newest !== null ? levelForecast(posterior, newest, days) : [],
  };
}
