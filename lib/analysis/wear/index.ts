import type { FleetPrior } from '@/lib/analysis/fleet-prior';
import { defaultLimits } from '@/lib/analysis/limits';
import { errorsInHindsight, errorsOf } from '@/lib/analysis/wear/errors-in-hindsight';
import { scoreOf } from '@/lib/analysis/wear/score-of';
import { outcomeOf, type WearOutcome } from '@/lib/analysis/wear/wear-outcome';
import { type NewestVisit, type WearStep, WearTrack } from '@/lib/analysis/wear/wear-track';
import { combinedVisits, visitsOf, type WearPoint } from '@/lib/analysis/wear/wear-visits';
import { type Kilopascals, kilopascalsPerUnit } from '@/lib/measure';

export { combineSignals } from '@/lib/analysis/wear/combine-signals';
export type { PassageQuestion } from '@/lib/analysis/wear/first-passage';
export type { WearOutcome } from '@/lib/analysis/wear/wear-outcome';
export type { WearState } from '@/lib/analysis/wear/wear-state';
export { startWear, updateWear, wearOutcomeOf } from '@/lib/analysis/wear/wear-state';
export type { WearStep } from '@/lib/analysis/wear/wear-track';
export type { WearPoint } from '@/lib/analysis/wear/wear-visits';

const track = new WearTrack();

/**
 * Trend, drift and forecast of one segment in one: the wear-curve library, an empirical Bayes mixture
 * of curves of lost vacuum whose level is followed by Kalman filters with soft rejection of errors.
 * `score` is P_n^0.7 P_(n-1)^0.3, P the probability of lying below `limitSle` (SLE) a year after the
 * visit. The library works in psi; what goes in and comes out is kPa. No visit gives nulls; below four
 * visits a passage says `too few`.
 *
 * Source: our own design; its reference cases are under tests/published.
 *
 * @example assessWear([], defaultFleetPrior).score is null
 */
export function assessWear(
  points: readonly WearPoint[],
  prior: FleetPrior,
  limitSle: Kilopascals = defaultLimits.idleCautionSle,
): WearOutcome {
  const visits = combinedVisits(visitsOf(points), prior);
  const limit = limitSle / kilopascalsPerUnit.psi;
  const steps: WearStep[] = [];
  let newest: NewestVisit | null = null;
  let probabilityBefore: number | null = null;
  let scoreBefore: number | null = null;
  track.start(prior);
  visits.forEach((visit, k) => {
    track.take(visit.day, visit.idle);
    steps.push(track.step());
    if (k < visits.length - 3) return;
    scoreBefore = scoreOf(newest?.within1Year ?? null, probabilityBefore, prior.alarmPower);
    probabilityBefore = newest?.within1Year ?? null;
    newest = track.judge(visit, prior, limit);
  });
  // The next segment takes the track over: what hindsight is likely to be asked for is said now.
  const errors = steps.some(({ asksReread }) => asksReread) ? errorsOf(track, steps) : null;
  const hindsight = () => errors ?? errorsInHindsight(visits, prior);
  return outcomeOf(visits, prior, steps, newest, probabilityBefore, scoreBefore, hindsight);
}
