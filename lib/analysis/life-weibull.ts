import { weibullFit } from '@/lib/statistics';

/** How far a Weibull fit may be used: by the number of failures behind it. */
export type LifeTrust = 'hidden' | 'few failures' | 'shown' | 'enough to recommend';

export interface WeibullLife {
  readonly shape: number;
  /** In the unit of the lives. */
  readonly scale: number;
}

const showFrom = 5;
const priorFrom = 10;
export const recommendFrom = 20;
/** Own choice: parts that wear out have shapes near 3. */
const priorMedianShape = 3;
const priorLogDeviation = 0.3;

/**
 * Weibull life of right-censored lives. Hidden below 5 failures; 5 to 9 by maximum likelihood, shown
 * with a warning; from 10 with a normal prior N(ln 3, 0.3) on the log of the shape; from 20 good enough
 * to change a rule by.
 * Source: Lawless, Statistical Models and Methods for Lifetime Data (profile likelihood of the shape);
 * thresholds and prior are own choices.
 * Thin data: `hidden` and no Weibull; the same where the likelihood has no maximum.
 *
 * @example fitLife([50000, 60000], [true, false]) is `hidden`
 */
export function fitLife(
  times: readonly number[],
  failed: readonly boolean[],
): { readonly trust: LifeTrust; readonly weibull: WeibullLife | null } {
  const failures = failed.filter(Boolean).length;
  if (failures < showFrom) return { trust: 'hidden', weibull: null };
  if (failures >= priorFrom)
    return {
      trust: failures >= recommendFrom ? 'enough to recommend' : 'shown',
      weibull: withShapePrior(times, failed, failures),
    };
  const fit = weibullFit(times, failed);
  return fit
    ? { trust: 'few failures', weibull: { shape: fit.shape, scale: fit.scale } }
    : { trust: 'hidden', weibull: null };
}

/** Maximum of profile log likelihood plus log prior over the log of the shape, by golden section. */
function withShapePrior(
  times: readonly number[],
  failed: readonly boolean[],
  failures: number,
): WeibullLife {
  // Lives in units of the longest keep the powers within range.
  const longest = times.reduce((a, b) => Math.max(a, b));
  const shares = times.map((time) => time / longest);
  const sumLogFailed = shares.reduce((sum, s, index) => sum + (failed[index] ? Math.log(s) : 0), 0);
  const meanPower = (shape: number) =>
    shares.reduce((sum, share) => sum + share ** shape, 0) / failures;
  const logPosterior = (logShape: number) => {
    const shape = Math.exp(logShape);
    const deviation = (logShape - Math.log(priorMedianShape)) / priorLogDeviation;
    return (
      failures * (logShape - Math.log(meanPower(shape))) +
      (shape - 1) * sumLogFailed -
      deviation ** 2 / 2
    );
  };
  const shape = Math.exp(maximum(logPosterior, Math.log(0.1), Math.log(30)));
  return { shape, scale: longest * meanPower(shape) ** (1 / shape) };
}

function maximum(value: (x: number) => number, from: number, to: number): number {
  const golden = (Math.sqrt(5) - 1) / 2;
  let low = from;
  let high = to;
  while (high - low > 1e-9) {
    const left = high - golden * (high - low);
    const right = low + golden * (high - low);
    if (value(left) > value(right)) high = right;
    else low = left;
  }
  return (low + high) / 2;
}
