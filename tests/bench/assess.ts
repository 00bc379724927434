import { assessUnit } from '@/lib/analysis/assess-unit';
import { evidenceOf } from '@/lib/analysis/evidence';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import type { Reading } from '@/lib/analysis/reading';
import { wearPointsOf } from '@/lib/analysis/segment-wear';
import type { AssessUnitInput } from '@/lib/analysis/unit-assessment';
import { assessWear } from '@/lib/analysis/wear';
import { toKilometres, toKilopascals } from '@/lib/measure';
import { aUnit, readingOn } from '../support/a-unit';
import { randomFrom } from '../support/random';
import { quickest } from './wear';

const asOf = 20_000;
const unitCount = 250;
const rounds = 20;
const readingCount = 20;

/** Three in ten units wear in their last two years. */
function inventedUnits(): readonly AssessUnitInput[] {
  const { uniform, normal } = randomFrom(1);
  return Array.from({ length: unitCount }, (_, u) => {
    const loss = uniform() < 0.3 ? 0.4 * uniform() : 0;
    const readings: Reading[] = Array.from({ length: readingCount }, (_, k) => {
      const idle = 13 - loss * Math.max(0, k - 12) + 0.25 * normal();
      return readingOn(asOf - 5 - 91 * (readingCount - 1 - k), {
        id: `${u}-${k}`,
        idle: toKilopascals(idle, 'psi'),
        lowest: toKilopascals(0.8 * idle, 'psi'),
        odometer: toKilometres(20_000 + 3_000 * k, 'mi'),
      });
    });
    return aUnit({ readings });
  });
}

/** Units a second of one core: a nightly run judges tens of thousands, so the first rounds only warm up. */
const unitsASecond = (judge: () => void): number => (1000 * unitCount) / quickest(judge, rounds);

/** Whole verdicts beside the wear library alone, 20 readings a unit; at least 2,000 a second wanted. */
export function benchAssess(): void {
  const units = inventedUnits();
  const points = units.map((unit) => wearPointsOf(evidenceOf(unit).visits));
  const whole = unitsASecond(() => {
    for (const unit of units) assessUnit(unit);
  });
  const wearAlone = unitsASecond(() => {
    for (const each of points) assessWear(each, defaultFleetPrior);
  });
  console.log(`assessUnit                       ${Math.round(whole)} units a second`);
  console.log(`wear library alone, no forecast  ${Math.round(wearAlone)} units a second`);
}
