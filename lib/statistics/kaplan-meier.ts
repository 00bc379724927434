import { normal } from '@/lib/statistics/normal';
import { requireConfidence, requireSamples, type Samples } from '@/lib/statistics/require-samples';

export interface KaplanMeierRow {
  readonly time: number;
  readonly atRisk: number;
  readonly failures: number;
  /** Left at this time without failing. */
  readonly censored: number;
  /** Share that lasts beyond this time. */
  readonly survival: number;
  /** Greenwood's; null once none survive. */
  readonly standardError: number | null;
  /** Pointwise limits; null where the kind chosen has none: no survivors, or (log-log) no failures yet. */
  readonly lower: number | null;
  readonly upper: number | null;
}

export interface KaplanMeierOptions {
  /** 0.95 unless given. */
  readonly confidence?: number;
  /** Scale on which the limits are symmetric: `log-log` stays within 0 to 1, `log` is cut at 1. */
  readonly interval?: 'log-log' | 'log';
}

/**
 * Share of lives that last beyond each time, some lives not yet ended: the product over failure times
 * of 1 - failures / atRisk. A life that ends unfailed at a failure time counts as at risk there.
 * One row for every different time, failures or not.
 * Source: Kaplan and Meier, Journal of the American Statistical Association 53 (1958) 457-481;
 * limits by Kalbfleisch and Prentice (1980), as R's survival::survfit(conf.type = "log-log").
 *
 * No lives: no rows.
 *
 * @example kaplanMeier([1, 2, 3], [true, false, true])[0].survival -> 0.6666666666666667
 */
export function kaplanMeier(
  times: Samples,
  failed: ArrayLike<boolean | number>,
  { confidence = 0.95, interval = 'log-log' }: KaplanMeierOptions = {},
): KaplanMeierRow[] {
  requireSamples(times, Array.from(failed, Number));
  requireConfidence(confidence);
  const deviate = -normal.quantile((1 - confidence) / 2);
  const order = Array.from(times, (_, i) => i).sort((a, b) => times[a]! - times[b]!);
  const rows: KaplanMeierRow[] = [];
  let survival = 1;
  let variance = 0;
  for (let start = 0; start < order.length; ) {
    const time = times[order[start]!]!;
    const atRisk = order.length - start;
    let failures = 0;
    let end = start;
    while (end < order.length && times[order[end]!] === time) {
      if (failed[order[end]!]) failures++;
      end++;
    }
    survival *= 1 - failures / atRisk;
    variance += failures / (atRisk * (atRisk - failures));
    rows.push({
      time,
      atRisk,
      failures,
      censored: end - start - failures,
      survival,
      standardError: survival > 0 ? survival * Math.sqrt(variance) : null,
      ...limits(survival, deviate * Math.sqrt(variance), interval),
    });
    start = end;
  }
  return rows;
}

function limits(survival: number, reach: number, interval: 'log-log' | 'log') {
  if (survival === 0 || (survival === 1 && interval === 'log-log')) {
    return { lower: null, upper: null };
  }
  if (interval === 'log') {
    return {
      lower: survival * Math.exp(-reach),
      upper: Math.min(1, survival * Math.exp(reach)),
    };
  }
  const factor = Math.exp(reach / -Math.log(survival));
  return { lower: survival ** factor, upper: survival ** (1 / factor) };
}
