import fc from 'fast-check';
import type { Fitment, Reading } from '@/lib/analysis/reading';
import { fitted, psi, readingOn } from '../../support/a-unit';

export const asOf = 20_000;
const psiBetween = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((value) => psi(value));
export const orNull = <Value>(value: fc.Arbitrary<Value>) => fc.option(value, { freq: 8 });

/** A reading that the database can hold, true or not. */
const aReading: fc.Arbitrary<Reading> = fc
  .record({
    readOn: fc.integer({ min: asOf - 1500, max: asOf + 200 }),
    entry: fc.integer({ min: 0, max: 3 }),
    idle: orNull(fc.oneof(psiBetween(12, 14), psiBetween(0, 16))),
    lowest: orNull(psiBetween(0, 12)),
    recovery: orNull(fc.double({ min: 0, max: 600, noNaN: true })),
    holdLoss: orNull(psiBetween(0, 2)),
    holdTime: orNull(fc.integer({ min: 1, max: 3600 })),
    line: fc.constantFrom('dry', 'dry', 'dry', 'film', 'wet', 'not seen'),
    pedal: orNull(fc.constantFrom('normal', 'normal', 'went hard', 'hard')),
    belt: orNull(fc.constantFrom('sound', 'cracked', 'off', 'not seen')),
    barometer: orNull(fc.double({ min: 45, max: 110, noNaN: true })),
    odometer: orNull(fc.double({ min: 0, max: 9e6, noNaN: true })),
  })
  .map((change) => readingOn(change.readOn, change as Partial<Reading>));

const readings = fc
  .array(aReading, { maxLength: 12 })
  .map((list) => list.map((reading, k) => ({ ...reading, id: `r${k}` })));

const fitments: fc.Arbitrary<Fitment[]> = fc.array(
  fc
    .tuple(
      fc.constantFrom('pump', 'belt', 'booster', 'line', 'check valve'),
      orNull(fc.integer({ min: asOf - 1500, max: asOf + 100 })),
      orNull(fc.integer({ min: asOf - 1500, max: asOf + 100 })),
    )
    .map(([part, fittedOn, removedOn]) => ({
      ...fitted(part as Fitment['part'], fittedOn),
      removedOn,
    })),
  { maxLength: 4 },
);

/** Any history of a unit that the database can hold. */
export const history = fc.record({
  readings,
  fitments,
  closing: fc.record(
    {
      releasedOn: fc.integer({ min: asOf - 500, max: asOf }),
      vacuumOrderClosedOn: fc.integer({ min: asOf - 500, max: asOf }),
    },
    { requiredKeys: [] },
  ),
});
