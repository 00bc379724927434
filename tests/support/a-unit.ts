import type { AssessUnitInput } from '@/lib/analysis/assess-unit';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { defaultLimits } from '@/lib/analysis/limits';
import type { Fitment, Reading } from '@/lib/analysis/reading';
import { toKilopascals } from '@/lib/measure';

export const psi = (value: number) => toKilopascals(value, 'psi');

/** A sound reading at sea level on a day. */
export const readingOn = (readOn: number, change: Partial<Reading> = {}): Reading => ({
  id: `r${readOn}${change.entry ? `-${change.entry}` : ''}`,
  readOn,
  entry: 0,
  idle: psi(13),
  raised: null,
  lowest: psi(10.5),
  recovery: 8,
  holdLoss: psi(0.1),
  holdTime: 60,
  line: 'dry',
  pedal: 'normal',
  belt: 'sound',
  barometer: 101.325,
  odometer: null,
  technician: 'T1',
  gauge: null,
  ...change,
});

/** Quarterly readings up to `last`, the newest idle values given, oldest first, psi. */
export const quarterly = (last: number, idles: readonly number[]): Reading[] =>
  idles.map((idle, k) => readingOn(last - 91 * (idles.length - 1 - k), { idle: psi(idle) }));

export const fitted = (part: Fitment['part'], fittedOn: number | null): Fitment => ({
  part,
  revision: null,
  fittedOn,
  fittedOdometer: null,
  removedOn: null,
  removedOdometer: null,
  whyRemoved: null,
});

/** A unit at sea level with orders kept and none closed, as of day 20,000. */
export const aUnit = (change: Partial<AssessUnitInput> = {}): AssessUnitInput => ({
  unit: { unit: '0417', elevation: 0, builtOn: 15_000, trackedFrom: 16_000 },
  readings: quarterly(19_990, [13, 13.1, 12.9, 13, 13.1]),
  fitments: [],
  limits: defaultLimits,
  prior: defaultFleetPrior,
  asOf: 20_000,
  vacuumOrderClosedOn: null,
  isForecastCharted: false,
  ...change,
});
