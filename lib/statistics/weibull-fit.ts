import { solveIncreasing } from '@/lib/statistics/find-root';
import { requireConfidence, requireSamples, type Samples } from '@/lib/statistics/require-samples';
import { type WeibullIntervals, weibullIntervals } from '@/lib/statistics/weibull-intervals';

type WhyNoWeibull = 'fewer than 2 failures' | 'no spread in failures' | 'time not above zero';

export type WeibullFit =
  | {
      readonly shape: number;
      readonly scale: number;
      readonly logLikelihood: number;
      readonly intervals: WeibullIntervals;
      readonly whyNone: null;
    }
  | {
      readonly shape: null;
      readonly scale: null;
      readonly logLikelihood: null;
      readonly intervals: null;
      readonly whyNone: WhyNoWeibull;
    };

export interface WeibullFitOptions {
  /** Of the intervals, 0.9 unless given. */
  readonly confidence?: number;
  /** Normal prior on ln shape; `logLikelihood` stays that of the data alone. */
  readonly shapePrior?: { readonly logMean: number; readonly logDeviation: number };
}

const none = (whyNone: WhyNoWeibull): WeibullFit => ({
  shape: null,
  scale: null,
  logLikelihood: null,
  intervals: null,
  whyNone,
});

/**
 * Weibull distribution fitted to lives, some of them not yet ended, by maximum likelihood.
 *
 * The scale follows from the shape; the shape solves
 * sum t^k ln t / sum t^k - 1/k = mean ln t over failures, sums over all times.
 * Intervals are normal on the logarithms. Source: Lawless, Statistical Models and Methods for
 * Lifetime Data (2003), section 5.2; figures as R's survival::survreg(dist = "weibull").
 *
 * Fewer than two failures, failures all at one time with nothing lasting longer, or a failure at time
 * zero have no maximum: named in `whyNone`.
 *
 * @example weibullFit([41000, 52500, 60100, 77000, 98000], [1, 1, 1, 1, 1]).shape -> 3.59025977835
 */
export function weibullFit(
  times: Samples,
  failed: ArrayLike<boolean | number>,
  { confidence = 0.9, shapePrior }: WeibullFitOptions = {},
): WeibullFit {
  requireSamples(times, Array.from(failed, Number));
  requireConfidence(confidence);
  const failures = Array.from(times).filter((_, i) => failed[i]);
  if (failures.length < 2) return none('fewer than 2 failures');
  if (failures.some((time) => time <= 0)) return none('time not above zero');
  // A unit with no use yet has a likelihood of one whatever the parameters.
  const used = Array.from(times).filter((time) => time > 0);
  const longest = used.reduce((a, b) => Math.max(a, b));
  const logs = used.map((time) => Math.log(time / longest));
  const meanLog =
    failures.reduce((sum, time) => sum + Math.log(time / longest), 0) / failures.length;
  if (meanLog === 0 && !shapePrior) return none('no spread in failures');

  const score = (logShape: number): number => {
    const shape = Math.exp(logShape);
    let powers = 0;
    let weighted = 0;
    for (const log of logs) {
      const power = Math.exp(shape * log);
      powers += power;
      weighted += power * log;
    }
    const fromPrior = shapePrior
      ? (logShape - shapePrior.logMean) / shapePrior.logDeviation ** 2 / failures.length
      : 0;
    return shape * (weighted / powers - meanLog) - 1 + fromPrior;
  };
  const shape = Math.exp(solveIncreasing(score, shapePrior?.logMean ?? 0));
  const powers = logs.reduce((sum, log) => sum + Math.exp(shape * log), 0);
  const logScale = Math.log(powers / failures.length) / shape;
  return {
    shape,
    scale: longest * Math.exp(logScale),
    logLikelihood:
      failures.length * (Math.log(shape / longest) - shape * logScale + (shape - 1) * meanLog - 1),
    intervals: weibullIntervals({
      shape,
      scale: longest * Math.exp(logScale),
      standardised: logs.map((log) => shape * (log - logScale)),
      failures: failures.length,
      sumOverFailures: failures.length * shape * (meanLog - logScale),
      priorInformation: shapePrior ? shapePrior.logDeviation ** -2 : 0,
      confidence,
    }),
    whyNone: null,
  };
}
