import type { ForecastPoint } from '@/lib/analysis/assessment';
import { daysPerYear } from '@/lib/analysis/wear/below-limit';
import { normalBelow } from '@/lib/analysis/wear/normal-table';
import { noisyLoss } from '@/lib/analysis/wear/take-visit';
import { lossOf } from '@/lib/analysis/wear/wear-curves';
import type { WearPosterior } from '@/lib/analysis/wear/wear-posterior';
import { type DayNumber, kilopascalsPerUnit } from '@/lib/measure';

const halvings = 30;

/** Expected idle vacuum on given days: quantiles of the mixture of curves, found by bisection. */
export function levelForecast(
  posterior: WearPosterior,
  newest: DayNumber,
  days: readonly DayNumber[],
): ForecastPoint[] {
  const count = posterior.curve.length;
  const levels = new Float64Array(count);
  const deviations = new Float64Array(count);
  return days.map((day) => {
    let lowest = Number.POSITIVE_INFINITY;
    let highest = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < count; k++) {
      const loss = lossOf(posterior.curve[k]!, posterior.years + (day - newest) / daysPerYear);
      const level = posterior.level[k]! - loss;
      const deviation = Math.sqrt(
        posterior.variance[k]! + posterior.wearNoise * Math.min(loss, noisyLoss),
      );
      levels[k] = level;
      deviations[k] = deviation;
      lowest = Math.min(lowest, level - 5 * deviation);
      highest = Math.max(highest, level + 5 * deviation);
    }
    const quantile = (probability: number) => {
      let low = lowest;
      let high = highest;
      for (let halving = 0; halving < halvings; halving++) {
        const middle = (low + high) / 2;
        let below = 0;
        for (let k = 0; k < count; k++)
          below += posterior.weight[k]! * normalBelow((middle - levels[k]!) / deviations[k]!);
        if (below < probability) low = middle;
        else high = middle;
      }
      return ((low + high) / 2) * kilopascalsPerUnit.psi;
    };
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
