import { findRoot } from '@/lib/statistics/find-root';
import { incompleteBeta } from '@/lib/statistics/incomplete-beta';

/** Events counted over a time observed; the unit of time is the caller's. */
export interface EventRate {
  readonly events: number;
  readonly time: number;
}

export type RateRatio =
  | {
      readonly outcome: 'estimated';
      /** Rate of the first over rate of the second; null where the second has no event. */
      readonly ratio: number | null;
      readonly low: number;
      /** Null is without bound. */
      readonly high: number | null;
    }
  | { readonly outcome: 'no events' | 'no time observed' };

/**
 * The p at which `trials` give at least `least` successes with the chance `tail`. That chance is the
 * incomplete beta function I_p(least, trials - least + 1), which grows with p.
 */
const probabilityWithTail = (least: number, trials: number, tail: number): number =>
  findRoot((p) => incompleteBeta(p, 1 - p, least, trials - least + 1) - tail, 0, 1);

/**
 * Ratio of two event rates with its exact two-sided interval.
 *
 * Given the sum of both counts the first is binomial with p = rt₁ / (rt₁ + t₂), so the limits of p
 * (Clopper and Pearson) give those of the ratio: r = p / (1 − p) · t₂ / t₁.
 *
 * Source: Breslow and Day 1987, as R's `poisson.test` does it.
 * Thin data: without any event, or without time in either group, a named outcome.
 * Example: 11 events in 800 against 21 in 3,011 is 1.9715, from 0.8584 to 4.2773.
 */
export function rateRatio(first: EventRate, second: EventRate, confidence = 0.95): RateRatio {
  if (first.time <= 0 || second.time <= 0) return { outcome: 'no time observed' };
  const trials = first.events + second.events;
  if (trials === 0) return { outcome: 'no events' };
  const tail = (1 - confidence) / 2;
  const ratioOf = (p: number) => ((p / (1 - p)) * second.time) / first.time;
  const { events } = first;
  return {
    outcome: 'estimated',
    ratio: second.events === 0 ? null : (events / second.events) * (second.time / first.time),
    low: events === 0 ? 0 : ratioOf(probabilityWithTail(events, trials, tail)),
    high: events === trials ? null : ratioOf(probabilityWithTail(events + 1, trials, 1 - tail)),
  };
}
