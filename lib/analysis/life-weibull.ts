import { weibullFit } from '@/lib/statistics/weibull-fit';
import type { WeibullIntervals } from '@/lib/statistics/weibull-intervals';

/** How far a Weibull fit may be used: by the number of failures behind it. */
export type LifeTrust = 'hidden' | 'few failures' | 'shown' | 'enough to recommend';

export interface WeibullLife {
  readonly shape: number;
  /** In the unit of the lives. */
  readonly scale: number;
  /** 90% intervals of shape, scale and the life that one in ten does not reach. */
  readonly intervals: WeibullIntervals;
}

const showFrom = 5;
const priorFrom = 10;
const recommendFrom = 20;
/** Own choice: parts that wear out have shapes near 3. */
const shapePrior = { logMean: Math.log(3), logDeviation: 0.3 };

/**
 * Weibull life of right-censored lives. Hidden below 5 failures; 5 to 9 by maximum likelihood, shown
 * with a warning; from 10 with a normal prior N(ln 3, 0.3) on the log of the shape; from 20 good enough
 * to change a rule by.
 * Source: `weibullFit`; thresholds and prior are own choices.
 * Thin data: `hidden` and no Weibull; the same where the likelihood has no maximum.
 *
 * @example fitLife([50000, 60000], [true, false]) is `hidden`
 */
export function fitLife(
  times: readonly number[],
  failed: readonly boolean[],
): { readonly trust: LifeTrust; readonly weibull: WeibullLife | null } {
  const failures = failed.filter(Boolean).length;
  const hidden = { trust: 'hidden', weibull: null } as const;
  if (failures < showFrom) return hidden;
  const fit = weibullFit(times, failed, failures < priorFrom ? {} : { shapePrior });
  if (fit.whyNone !== null) return hidden;
  return {
    trust:
      failures >= recommendFrom
        ? 'enough to recommend'
        : failures >= priorFrom
          ? 'shown'
          : 'few failures',
    weibull: { shape: fit.shape, scale: fit.scale, intervals: fit.intervals },
  };
}
