import type { Scenario } from '@/lib/analysis/backtest/fleet-scenarios';
import {
  coldEngine,
  grains,
  inchesShare,
  lowestOf,
  psiPerInch,
  slips,
} from '@/lib/analysis/backtest/simulate-fleet';
import type { WearPoint } from '@/lib/analysis/wear';
import { kilopascalsPerUnit } from '@/lib/measure';

const leastLevel = -1;
const spacing = 0.01;
const nodes = 1801;
const coldNodes = 6;
const roundingVariance =
  (inchesShare * grains.inches ** 2 + (1 - inchesShare) * grains.psi ** 2) / 12;

/** Likelihood of what a visit read, by the true level, psi: exactly as the simulator reads and errs. */
export function likelihoodOf(point: WearPoint, scenario: Scenario): (level: number) => number {
  const idle = point.idleSle / kilopascalsPerUnit.psi;
  const lowest = (point.lowestSle ?? Number.NaN) / kilopascalsPerUnit.psi;
  const idleDeviation = Math.sqrt(scenario.noise ** 2 + roundingVariance);
  const lowestDeviation = Math.sqrt(scenario.lowestNoise ** 2 + roundingVariance);
  const { errorShare } = scenario;
  const sound = (level: number, readIdle: number, readLowest: number) =>
    Math.exp(
      -0.5 *
        (((readIdle - level) / idleDeviation) ** 2 +
          ((readLowest - lowestOf(level)) / lowestDeviation) ** 2),
    );
  const table = new Float64Array(nodes);
  for (let node = 0; node < nodes; node++) {
    const level = leastLevel + node * spacing;
    const inOtherUnit =
      inchesShare * sound(level, idle / psiPerInch, lowest / psiPerInch) * psiPerInch ** -2 +
      (1 - inchesShare) * sound(level, idle * psiPerInch, lowest * psiPerInch) * psiPerInch ** 2;
    let wrong = 0.25 * inOtherUnit;
    for (const slip of slips) wrong += (0.25 / slips.length) * sound(level, idle - slip, lowest);
    for (let k = 0; k < coldNodes; k++) {
      const cold = coldEngine.least + (coldEngine.range * (k + 0.5)) / coldNodes;
      const coldLowest = lowestOf(cold) - lowestOf(0);
      wrong += (0.5 / coldNodes) * sound(level, idle + cold, lowest + coldLowest);
    }
    table[node] = (1 - errorShare) * sound(level, idle, lowest) + errorShare * wrong + 1e-12;
  }
  return (level) => {
    const node = Math.round((level - leastLevel) / spacing);
    return table[Math.min(nodes - 1, Math.max(0, node))]!;
  };
}
