import { mean } from '@/lib/statistics/mean';

/** A forecast of remaining life made at time `at`. Times in one unit throughout. */
export interface RemainingLifeForecast {
  readonly at: number;
  readonly remaining: number;
}

const trueRemaining = (forecast: RemainingLifeForecast, endOfLife: number): number =>
  endOfLife - forecast.at;

/**
 * Relative accuracy: 1 - |true - forecast| / true remaining life. Null at or after the end of life.
 * Source of all four metrics: Saxena and others, International Journal of Prognostics and Health
 * Management 1 (2010) 1.
 *
 * @example relativeAccuracy({ at: 24, remaining: 20 }, 48) -> 0.8333333333333334
 */
export function relativeAccuracy(
  forecast: RemainingLifeForecast,
  endOfLife: number,
): number | null {
  const truth = trueRemaining(forecast, endOfLife);
  return truth > 0 ? 1 - Math.abs(truth - forecast.remaining) / truth : null;
}

/**
 * Cumulative relative accuracy: mean relative accuracy of the forecasts made before the end of life,
 * weighted equally. Null without one.
 *
 * @example cumulativeRelativeAccuracy([{ at: 24, remaining: 24 }], 48) -> 1
 */
export function cumulativeRelativeAccuracy(
  forecasts: readonly RemainingLifeForecast[],
  endOfLife: number,
): number | null {
  const accuracies = forecasts.flatMap((forecast) => relativeAccuracy(forecast, endOfLife) ?? []);
  return accuracies.length === 0 ? null : mean(accuracies);
}

/**
 * Prognostic horizon, constant band: time from the first forecast within alpha times the whole life of
 * the truth until the end of life. The band is the paper's; it does not shrink as `isWithinCone` does.
 * Null when no forecast enters the band.
 *
 * @example prognosticHorizon([{ at: 12, remaining: 40 }], 48, 0.1) -> 36
 */
export function prognosticHorizon(
  forecasts: readonly RemainingLifeForecast[],
  endOfLife: number,
  alpha: number,
): number | null {
  const first = forecasts
    .toSorted((a, b) => a.at - b.at)
    .find(
      (forecast) =>
        Math.abs(forecast.remaining - trueRemaining(forecast, endOfLife)) <= alpha * endOfLife,
    );
  return first ? trueRemaining(first, endOfLife) : null;
}

/**
 * Alpha-lambda, shrinking cone: whether a forecast lies within alpha times the life truly remaining.
 *
 * @example isWithinCone({ at: 24, remaining: 20 }, 48, 0.2) -> true
 */
export function isWithinCone(
  forecast: RemainingLifeForecast,
  endOfLife: number,
  alpha: number,
): boolean {
  const truth = trueRemaining(forecast, endOfLife);
  return truth > 0 && Math.abs(forecast.remaining - truth) <= alpha * truth;
}
