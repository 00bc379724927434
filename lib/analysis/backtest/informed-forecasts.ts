import type { Scenario } from '@/lib/analysis/backtest/fleet-scenarios';
import { likelihoodOf } from '@/lib/analysis/backtest/reading-likelihood';
import type { ReplayedVisit } from '@/lib/analysis/backtest/replay-forecasts';
import type { JudgedSegment, KnownSegment } from '@/lib/analysis/backtest/score-forecasts';
import { limit, meanLossOf, step, weeklyLoss, weeks } from '@/lib/analysis/backtest/simulate-fleet';
import { scoreOf } from '@/lib/analysis/wear/score-of';
import { seededRandom } from '@/lib/statistics/seeded-random';

/** Ways to wear that are drawn of each mode. */
const enough = { even: 800, accelerating: 5000, sudden: 800 } as const;
type Drawn = Readonly<Record<keyof typeof enough, number>>;
const seed = 987654;
/** Start levels on a grid, in standard deviations about the mean. */
const levelsEachSide = 12;
const levelSpacing = 0.25;
const levelCount = 2 * levelsEachSide + 1;
/** Tracking begins up to 90 days before the first visit. */
const daysBefore = 45;
const weeksAYear = 365 / step;
const leastWeight = 1e-9;

/** Every pairing of a way to wear with a start level, with its weight and the week it meets the limit. */
interface Ways {
  /** By week, the loss of each way: the loop runs over ways. */
  readonly losses: readonly Float64Array[];
  readonly levels: readonly number[];
  readonly weights: Float64Array;
  readonly crossings: Int32Array;
}

/**
 * What the best of all forecasts could say: one that knows every law and constant by which the
 * scenario was invented, errors of people included, and lacks only the unit's own fate. It is Bayes'
 * rule over thousands of ways to wear drawn from those laws. No method can do better for long, so what
 * it misses is not in the readings.
 *
 * Source: importance sampling, own constants.
 */
export function informedForecasts(
  scenario: Scenario,
  segments: readonly KnownSegment[],
  drawn: Drawn = enough,
): JudgedSegment[] {
  const ways = waysOf(scenario, drawn);
  const cells = new Int32Array(ways.weights.length);
  const weights = new Float64Array(ways.weights.length);
  return segments.map((segment) => {
    const start = segment.points[0]!.day - daysBefore;
    cells.forEach((_, k) => {
      cells[k] = k;
    });
    weights.set(ways.weights);
    let count = cells.length;
    let before: number | null = null;
    const visits = segment.points.map((point, k): ReplayedVisit => {
      const likelihood = likelihoodOf(point, scenario);
      const age = Math.min((point.day - start) / step, weeks);
      const losses = ways.losses[Math.floor(age)]!;
      let total = 0;
      for (let i = 0; i < count; i++) {
        const cell = cells[i]!;
        const way = (cell / levelCount) | 0;
        const level = ways.levels[cell - way * levelCount]! - losses[way]!;
        weights[i] = weights[i]! * likelihood(level);
        total += weights[i]!;
      }
      let kept = 0;
      const crossingIn = new Float64Array(weeks + 1);
      for (let i = 0; i < count; i++) {
        const weight = weights[i]! / total;
        if (weight < leastWeight) continue;
        cells[kept] = cells[i]!;
        weights[kept++] = weight;
        const crossing = ways.crossings[cells[i]!]!;
        if (crossing <= weeks) crossingIn[crossing] = crossingIn[crossing]! + weight;
      }
      count = kept;
      const within1Year = crossedBy(crossingIn, age + weeksAYear);
      const score = scoreOf(within1Year, before) ?? 0;
      before = within1Year;
      const dateOf = (probability: number) => {
        const at = weekOf(crossingIn, probability);
        return at === null ? null : Math.max(point.day, Math.round(start + at * step));
      };
      return {
        day: point.day,
        count: k + 1,
        score,
        probabilityWithin1Year: within1Year,
        asksReread: false,
        errorInHindsight: 0,
        earliest90: dateOf(0.05),
        earliest80: dateOf(0.1),
        median: dateOf(0.5),
        latest80: dateOf(0.9),
        latest90: dateOf(0.95),
      };
    });
    return { ...segment, visits };
  });
}

function waysOf(scenario: Scenario, drawn: Drawn): Ways {
  const chance = seededRandom(seed);
  const { even, accelerating, sudden, startLevel, startDeviation } = scenario;
  const losses: Float64Array[] = [new Float64Array(weeks + 1)];
  const shares = [1 - even - accelerating - sudden];
  for (const mode of ['even', 'accelerating', 'sudden'] as const)
    for (let k = 0; k < drawn[mode]; k++) {
      const jump = mode === 'sudden' ? 0 : scenario.jump;
      losses.push(weeklyLoss(meanLossOf(mode, scenario, chance), jump, chance));
      shares.push(scenario[mode] / drawn[mode]);
    }
  const away = Array.from({ length: levelCount }, (_, k) => (k - levelsEachSide) * levelSpacing);
  const levels = away.map((deviations) => startLevel + deviations * startDeviation);
  const densities = away.map((deviations) => Math.exp(-0.5 * deviations ** 2));
  return {
    losses: Array.from({ length: weeks + 1 }, (_, week) =>
      Float64Array.from(losses, (loss) => loss[week]!),
    ),
    levels,
    weights: Float64Array.from(
      shares.flatMap((share) => densities.map((density) => share * density)),
    ),
    crossings: Int32Array.from(
      losses.flatMap((loss) => levels.map((level) => crossingOf(loss, level - limit))),
    ),
  };
}

/** First week by which more than `margin` is lost; beyond the last where none is. */
function crossingOf(loss: Float64Array, margin: number): number {
  if (margin <= 0) return 0;
  let low = 0;
  let high = weeks + 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (loss[middle]! > margin) high = middle;
    else low = middle;
  }
  return high;
}

const crossedBy = (crossingIn: Float64Array, week: number): number =>
  crossingIn.subarray(0, Math.floor(week) + 1).reduce((sum, weight) => sum + weight, 0);

function weekOf(crossingIn: Float64Array, probability: number): number | null {
  let sum = 0;
  for (let week = 0; week < crossingIn.length; week++) {
    sum += crossingIn[week]!;
    if (sum >= probability) return week;
  }
  return null;
}
