import { normalBelow } from '@/lib/analysis/wear/normal-table';
import { noisyLoss } from '@/lib/analysis/wear/take-visit';
import { lossOf } from '@/lib/analysis/wear/wear-curves';
import type { WearPosterior } from '@/lib/analysis/wear/wear-posterior';

/** Days ahead at which the chance of having crossed is worked out, 10 years at most. */
export const horizonDays: readonly number[] = [
  0.01, 30, 60, 90, 120, 150, 180, 225, 270, 315, 365, 420, 480, 540, 630, 730, 850, 980, 1100,
  1280, 1460, 1640, 1830, 2200, 2550, 2920, 3650,
];
export const daysPerYear = 365.25;
const ahead = new Float64Array(horizonDays.length);

/** A level 6.2 deviations above a limit does not lie below it: weights sum to 1, so 3e-10 is lost at most. */
const certainSquare = 6.2 ** 2;

/** Probability that the true level lies below `limit`, psi, `days` after the newest visit. */
export function belowLimit(posterior: WearPosterior, limit: number, days: number): number {
  const { curve, weight, level, variance, wearNoise } = posterior;
  const years = posterior.years + days / daysPerYear;
  let below = 0;
  for (let k = 0; k < curve.length; k++) {
    const loss = lossOf(curve[k]!, years);
    const noise = wearNoise * Math.min(loss, noisyLoss);
    below += weight[k]! * normalBelow((limit + loss - level[k]!) / Math.sqrt(variance[k]! + noise));
  }
  return below;
}

/** Probability of having crossed each limit by each of `horizonDays`: once crossed, always crossed. */
export function crossedBy(posterior: WearPosterior, limits: readonly number[]): Float64Array[] {
  for (let k = 0; k < ahead.length; k++) ahead[k] = posterior.years + horizonDays[k]! / daysPerYear;
  return limits.map((limit) => crossedLimit(posterior, limit));
}

function crossedLimit(posterior: WearPosterior, limit: number): Float64Array {
  const { curve, weight, level, variance, wearNoise } = posterior;
  const crossed = new Float64Array(horizonDays.length);
  for (let i = 0; i < curve.length; i++) {
    const id = curve[i]!;
    const share = weight[i]!;
    const margin = limit - level[i]!;
    const uncertainty = variance[i]!;
    let lastLoss = -1;
    let below = 0;
    // From the far end back: loss only grows, so where nothing lies below, nothing did before.
    for (let k = crossed.length - 1; k >= 0; k--) {
      const loss = lossOf(id, ahead[k]!);
      if (loss !== lastLoss) {
        const short = margin + loss;
        const spread = uncertainty + wearNoise * Math.min(loss, noisyLoss);
        const isCertain = short * short > certainSquare * spread;
        if (isCertain && short < 0) break;
        below = isCertain ? share : share * normalBelow(short / Math.sqrt(spread));
        lastLoss = loss;
      }
      crossed[k] = crossed[k]! + below;
    }
  }
  for (let k = 1; k < crossed.length; k++) crossed[k] = Math.max(crossed[k]!, crossed[k - 1]!);
  return crossed;
}

/** Days ahead by which a crossing has the given probability, between horizons by line; null beyond 10 years. */
export function crossingQuantile(crossed: Float64Array, probability: number): number | null {
  if (crossed[0]! >= probability) return horizonDays[0]!;
  for (let k = 1; k < crossed.length; k++) {
    const high = crossed[k]!;
    if (high < probability) continue;
    const low = crossed[k - 1]!;
    const from = horizonDays[k - 1]!;
    return from + ((probability - low) / (high - low)) * (horizonDays[k]! - from);
  }
  return null;
}

/** Probability of having crossed `days` ahead, between horizons by line. */
export function crossedWithin(crossed: Float64Array, days: number): number {
  if (days <= horizonDays[0]!) return crossed[0]!;
  for (let k = 1; k < crossed.length; k++) {
    const to = horizonDays[k]!;
    if (days > to) continue;
    const from = horizonDays[k - 1]!;
    return crossed[k - 1]! + ((crossed[k]! - crossed[k - 1]!) * (days - from)) / (to - from);
  }
  return crossed[crossed.length - 1]!;
}
