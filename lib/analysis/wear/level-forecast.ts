import type { ForecastPoint } from '@/lib/analysis/assessment';
import { daysPerYear } from '@/lib/analysis/wear/below-limit';
import { normalBelow } from '@/lib/analysis/wear/normal-table';
import { noisyLoss } from '@/lib/analysis/wear/take-visit';
import { lossOf } from '@/lib/analysis/wear/wear-curves';
import type { WearPosterior } from '@/lib/analysis/wear/wear-posterior';
import { type DayNumber, kilopascalsPerUnit } from '@/lib/measure';
import { findRoot } from '@/lib/statistics/find-root';

/** psi. Curves that stand this close together are one normal of their mean and variance. */
const closeBy = 0.02;

/** Expected idle vacuum on given days: quantiles of the mixture of curves. */
export function levelForecast(
  posterior: WearPosterior,
  newest: DayNumber,
  days: readonly DayNumber[],
): ForecastPoint[] {
  return days.map((day) => {
    const quantile = quantilesOf(mixtureOn(posterior, (day - newest) / daysPerYear));
    return {
      day,
      median: quantile(0.5),
      low80: quantile(0.1),
      high80: quantile(0.9),
      low95: quantile(0.025),
      high95: quantile(0.975),
    };
  });
}

interface Normal {
  readonly weight: number;
  readonly level: number;
  readonly deviation: number;
}

interface Mixture {
  readonly normals: readonly Normal[];
  readonly lowest: number;
  readonly highest: number;
}

function mixtureOn(posterior: WearPosterior, yearsAhead: number): Mixture {
  const { curve, weight, level, variance, wearNoise, years } = posterior;
  const sums = new Map<number, { weight: number; first: number; second: number }>();
  for (let k = 0; k < curve.length; k++) {
    const loss = lossOf(curve[k]!, years + yearsAhead);
    const at = level[k]! - loss;
    const spread = variance[k]! + wearNoise * Math.min(loss, noisyLoss);
    const bin = Math.round(at / closeBy);
    const sum = sums.get(bin) ?? { weight: 0, first: 0, second: 0 };
    sum.weight += weight[k]!;
    sum.first += weight[k]! * at;
    sum.second += weight[k]! * (at * at + spread);
    sums.set(bin, sum);
  }
  const normals = [...sums.values()].map(({ weight: share, first, second }) => {
    const mean = first / share;
    return { weight: share, level: mean, deviation: Math.sqrt(second / share - mean * mean) };
  });
  return {
    normals,
    lowest: Math.min(...normals.map((one) => one.level - 5 * one.deviation)),
    highest: Math.max(...normals.map((one) => one.level + 5 * one.deviation)),
  };
}

function quantilesOf({ normals, lowest, highest }: Mixture) {
  const share = (level: number) =>
    normals.reduce(
      (sum, { weight, level: mean, deviation }) =>
        sum + weight * normalBelow((level - mean) / deviation),
      0,
    );
  return (probability: number) =>
    findRoot((level) => share(level) - probability, lowest, highest) * kilopascalsPerUnit.psi;
}
