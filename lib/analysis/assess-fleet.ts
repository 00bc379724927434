import { assessUnit } from '@/lib/analysis/assess-unit';
import { fleetRate } from '@/lib/analysis/belt';
import { evidenceOf } from '@/lib/analysis/evidence';
import { defaultFleetPrior, type FleetPrior, learnFleetPrior } from '@/lib/analysis/fleet-prior';
import type { Limits } from '@/lib/analysis/limits';
import { wearPointsOf } from '@/lib/analysis/segment-wear';
import { readingsAfter, segmentsOf } from '@/lib/analysis/segments';
import type { AssessUnitInput, UnitAssessment } from '@/lib/analysis/unit-assessment';
import { rankOfMark } from '@/lib/analysis/verdict';
import { type Visit, visitsOf } from '@/lib/analysis/visits';
import type { WearPoint } from '@/lib/analysis/wear';
import { robustMoments } from '@/lib/analysis/wear/robust-moments';
import { visitsOf as wearVisitsOf } from '@/lib/analysis/wear/wear-visits';
import type { DayNumber } from '@/lib/measure';

export type FleetUnit = Omit<AssessUnitInput, 'limits' | 'prior' | 'asOf' | 'fleetBeltRate'>;

export interface AssessFleetInput {
  readonly units: readonly FleetUnit[];
  readonly limits: Limits;
  /** What the fleet says of a unit before its first visit: learnt earlier, or `priorOf` the units. */
  readonly prior: FleetPrior;
  readonly asOf: DayNumber;
}

/** Every unit's verdict, earliest need first; the fleet's own mileage serves units with little history. */
export function assessFleet({ units, ...fleet }: AssessFleetInput): readonly UnitAssessment[] {
  const fleetBeltRate = fleetBeltRateOf(units, fleet.asOf);
  return byNeed(units.map((unit) => assessUnit({ ...unit, ...fleet, fleetBeltRate })));
}

/** Units that middle figures of a fleet are worked out from: more would not move them. */
const enoughUnits = 1_000;
const evenly = <Unit>(units: readonly Unit[]): readonly Unit[] => {
  const stride = Math.ceil(units.length / enoughUnits);
  return units.filter((_, k) => k % stride === 0);
};

/** Kilometres a day of the fleet, of odometers up to `asOf`; null when no unit has a history. */
export const fleetBeltRateOf = (
  units: readonly Pick<FleetUnit, 'readings'>[],
  asOf: DayNumber,
): number | null =>
  fleetRate(
    evenly(units).map(({ readings }) =>
      readings.flatMap(({ id, readOn, odometer }) =>
        odometer === null || readOn > asOf ? [] : [{ readingId: id, day: readOn, odometer }],
      ),
    ),
    asOf,
  );

/** The prior that the fleet's own segments up to `asOf` teach. */
export const priorOf = (
  units: readonly Pick<FleetUnit, 'unit' | 'readings' | 'fitments'>[],
  asOf: DayNumber,
): FleetPrior => learnFleetPrior(units.flatMap((unit) => wearSegmentsOf({ ...unit, asOf })));

/**
 * The fleet's own noise and start level by robust moments alone, in milliseconds: the two figures that
 * matter most where there is no time to learn the rest.
 */
export const noiseOf = (
  units: readonly Pick<FleetUnit, 'unit' | 'readings' | 'fitments'>[],
  asOf: DayNumber,
): FleetPrior =>
  robustMoments(
    evenly(units).flatMap((unit) => wearSegmentsOf({ ...unit, asOf }).map(wearVisitsOf)),
    defaultFleetPrior,
  );

type History = Pick<AssessUnitInput, 'unit' | 'readings' | 'fitments' | 'asOf'>;

/** Visits of each segment of a unit; what cannot be true is left out. */
export function visitsBySegment(unit: History): readonly (readonly Visit[])[] {
  const { sound } = evidenceOf(unit);
  const starts = segmentsOf(unit.fitments, unit.asOf);
  return starts.map(({ start }, k) => {
    const end = starts[k + 1]?.start;
    const before = end == null ? sound : sound.filter(({ readOn }) => readOn < end);
    return visitsOf(readingsAfter(before, start));
  });
}

/** Idle vacuum of each segment of a unit, SLE. */
export const wearSegmentsOf = (unit: History): readonly (readonly WearPoint[])[] =>
  visitsBySegment(unit).map(wearPointsOf);

/** Worst mark first; within a mark the earliest early edge, then the higher wear score, then the name. */
export function byNeed(assessments: readonly UnitAssessment[]): readonly UnitAssessment[] {
  const never = Number.POSITIVE_INFINITY;
  return assessments.toSorted(
    (a, b) =>
      rankOfMark(a.mark) - rankOfMark(b.mark) ||
      compare(a.earliestEdge ?? never, b.earliestEdge ?? never) ||
      compare(b.wear.score ?? 0, a.wear.score ?? 0) ||
      compare(a.unit, b.unit),
  );
}

const compare = <Key extends number | string>(a: Key, b: Key): number =>
  a < b ? -1 : a > b ? 1 : 0;
