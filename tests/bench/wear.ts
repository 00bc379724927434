import { scenarios } from '@/lib/analysis/backtest/fleet-scenarios';
import { simulateFleet } from '@/lib/analysis/backtest/simulate-fleet';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import {
  assessWear,
  startWear,
  updateWear,
  type WearPoint,
  type WearState,
} from '@/lib/analysis/wear';
import { curveWeights } from '@/lib/analysis/wear/wear-belief';
import { curveCount, lossOf } from '@/lib/analysis/wear/wear-curves';
import { toKilopascals } from '@/lib/measure';

const visits = 20;
const limit = toKilopascals(10, 'psi');
const stopLimit = toKilopascals(7.5, 'psi');

/** The method as its text has it: every curve its own state from the first visit, no table, no pruning. */
function plainWear(points: readonly WearPoint[]): number {
  const { noise, wearNoise, errorShare, errorSpread, startLevel, startDeviation } =
    defaultFleetPrior;
  const weights = [...curveWeights(defaultFleetPrior)];
  const levels = weights.map(() => startLevel);
  const variances = weights.map(() => startDeviation ** 2);
  let surprise = 0;
  for (const { day, idleSle } of points) {
    const t = (day - points[0]!.day) / 365.25;
    const y = idleSle / 6.894757;
    let total = 0;
    let mean = 0;
    for (let k = 0; k < curveCount; k++) {
      const loss = lossOf(k, t);
      const s = variances[k]! + noise ** 2 + (wearNoise / 2) * Math.min(loss, 6);
      const e = y - levels[k]! + loss;
      const sound = ((1 - errorShare) * Math.exp((-0.5 * e * e) / s)) / Math.sqrt(2 * Math.PI * s);
      const wrong = errorShare / (Math.PI * errorSpread * (1 + (e / errorSpread) ** 2));
      const share = sound / (sound + wrong);
      mean += weights[k]! * (levels[k]! - loss);
      levels[k] = levels[k]! + (share * variances[k]! * e) / s;
      variances[k] = variances[k]! - (share * variances[k]! ** 2) / s;
      weights[k] = weights[k]! * (sound + wrong);
      total += weights[k]!;
    }
    surprise = y - mean;
    for (let k = 0; k < curveCount; k++) weights[k] = weights[k]! / total;
  }
  return surprise;
}

/** Processor milliseconds of the quickest of several rounds: neighbours on the machine count least. */
export function quickest(work: () => void, rounds = 5): number {
  let best = Number.POSITIVE_INFINITY;
  for (let round = 0; round < rounds; round++) {
    const before = process.cpuUsage().user;
    work();
    best = Math.min(best, (process.cpuUsage().user - before) / 1e3);
  }
  return best;
}

/** The wear library beside a plain one in the same run, 20 visits a unit, one core. */
export function benchWear(): void {
  const units = simulateFleet(scenarios.A!, 1)
    .map(({ points }) => points.slice(0, visits))
    .filter((points) => points.length === visits)
    .slice(0, 100);
  const question = { asOf: 3000, nextReadingOn: 3091, horizonDays: 91 };
  const print = (what: string, milliseconds: number) =>
    console.log(
      `${what.padEnd(46)}${Math.round((1000 * units.length) / milliseconds)} units a second`,
    );
  print(
    'plain, filter only',
    quickest(() => {
      for (const points of units) plainWear(points);
    }),
  );
  print(
    'wear library, filter and score',
    quickest(() => {
      for (const points of units) assessWear(points, defaultFleetPrior);
    }),
  );
  print(
    'wear library, with wear and stop passages',
    quickest(() => {
      for (const points of units) {
        const outcome = assessWear(points, defaultFleetPrior);
        outcome.passages([limit, stopLimit], question);
      }
    }),
  );
  const states = units.map((points) =>
    points
      .slice(0, -1)
      .reduce<WearState>(
        (state, point) => updateWear(state, point) ?? state,
        startWear(defaultFleetPrior),
      ),
  );
  const one = quickest(() => {
    states.forEach((state, k) => {
      updateWear(state, units[k]!.at(-1)!);
    });
  });
  console.log(
    `${'one new reading from stored state'.padEnd(46)}${((1000 * one) / states.length).toFixed(0)} µs`,
  );
}
