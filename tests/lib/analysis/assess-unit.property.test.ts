import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import { type Mark, marks } from '@/lib/analysis/assessment';
import type { Reading } from '@/lib/analysis/reading';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import { fromKilopascals, toKilopascals } from '@/lib/measure';
import { aUnit, fitted, psi, readingOn } from '../../support/a-unit';
import { randomFrom } from '../../support/random';
import { asOf, history } from './arbitrary-histories';

const judge = ({
  readings,
  fitments,
  closing,
}: typeof history extends fc.Arbitrary<infer H> ? H : never) =>
  assessUnit(aUnit({ readings, fitments, ...closing }));
const rank = (mark: Mark | null) => (mark === null ? 99 : marks.indexOf(mark));

const runs = { numRuns: Number(process.env.PROPERTY_RUNS ?? 60) };

describe('any history that the database can hold', () => {
  it('is judged without a throw, a NaN or an empty reason', () => {
    fc.assert(
      fc.property(history, (any) => {
        const assessed = judge(any);
        expect(assessed.reasons.length).toBeGreaterThan(0);
        expect(assessed.reasons[0]?.mark).toBe(assessed.mark);
        for (const { text } of assessed.reasons) expect(text).not.toMatch(/NaN|undefined|Infinity/);
        // JSON turns NaN and infinities into null; equality shows that there were none.
        expect(JSON.parse(JSON.stringify(assessed))).toEqual(stripUndefined(assessed));
      }),
      runs,
    );
  });

  it('reads the same in any order, and doubled', () => {
    fc.assert(
      fc.property(history, fc.infiniteStream(fc.nat()), (any, keys) => {
        const shuffled = any.readings
          .map((reading) => ({ reading, key: keys.next().value as number }))
          .sort((a, b) => a.key - b.key)
          .map(({ reading }) => reading);
        const doubled = [...shuffled, ...any.readings];
        const once = judge(any);
        expect(judge({ ...any, readings: shuffled })).toEqual(once);
        expect(judge({ ...any, readings: doubled })).toEqual(once);
      }),
      runs,
    );
  });

  it('is not changed by what comes later', () => {
    fc.assert(
      fc.property(history, (any) => {
        const known = any.readings.filter(({ readOn }) => readOn <= asOf);
        const fittings = any.fitments.filter(({ fittedOn }) => (fittedOn ?? asOf) <= asOf);
        expect(judge({ ...any, readings: known, fitments: fittings })).toEqual(judge(any));
      }),
      runs,
    );
  });

  it('is released by nothing but a release, a repair or a newer reading', () => {
    fc.assert(
      fc.property(history, (any) => {
        const assessed = assessUnit(
          aUnit({
            readings: any.readings,
            fitments: any.fitments,
            openSpell: { why: 'x', openedOn: asOf - 400 },
          }),
        );
        expect(assessed.mark).toBe('Out of service');
        expect(assessed.mayGoOut).toBe(false);
      }),
      runs,
    );
  });
});

function stripUndefined(assessed: UnitAssessment): unknown {
  return {
    ...assessed,
    reasons: assessed.reasons.map((reason) =>
      Object.fromEntries(Object.entries(reason).filter(([, value]) => value !== undefined)),
    ),
  };
}

/** Sound quarters, then a newest reading in proportion. */
const soundThen = (newest: Partial<Reading>) =>
  aUnit({
    readings: [
      ...[13, 13.1, 12.9, 13, 13.1].map((idle, k) =>
        readingOn(asOf - 91 * (5 - k) - 1, { idle: psi(idle) }),
      ),
      readingOn(asOf, newest),
    ],
  });

describe('a worse reading', () => {
  const worse: Record<string, (by: number) => Partial<Reading>> = {
    lowest: (by) => ({ lowest: psi(11 - by) }),
    recovery: (by) => ({ recovery: 5 + 4 * by }),
    'hold loss': (by) => ({ holdLoss: psi(by / 4) }),
  };
  it.each(Object.keys(worse))('of %s never improves the mark', (measure) => {
    const at = worse[measure]!;
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 10, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (by, less) => {
          const [much, little] = [by, by * less].map(
            (each) => assessUnit(soundThen(at(each))).mark,
          );
          expect(rank(much!)).toBeLessThanOrEqual(rank(little!));
        },
      ),
      runs,
    );
  });

  it('of idle never improves the mark that the limits give', () => {
    const of = (idle: number) => soundThen({ idle: psi(idle), lowest: psi(idle * 0.8) });
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 14, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (idle, share) => {
          const [high, low] = [idle, idle * share].map((each) => assessUnit(of(each)).mark);
          expect(rank(low!)).toBeLessThanOrEqual(rank(high!));
        },
      ),
      runs,
    );
  });
});

describe('a lower idle value', () => {
  it('never improves the mark of a wearing unit, confirmed or not', () => {
    const { uniform, normal } = randomFrom(3);
    for (let history = 0; history < 30; history++) {
      const slope = 0.25 * uniform();
      const earlier = Array.from(
        { length: 4 + Math.floor(8 * uniform()) },
        (_, k) => 13 - slope * k + 0.2 * normal(),
      );
      const ranks = Array.from({ length: 20 }, (_, step) => {
        const idle = (earlier.at(-1) ?? 13) + 0.6 - 0.23 * step;
        const readings = [...earlier, idle].map((each, k) =>
          readingOn(asOf - 91 * (earlier.length - k), { idle: psi(each), lowest: psi(0.8 * each) }),
        );
        return rank(assessUnit(aUnit({ readings })).mark);
      });
      expect(ranks).toEqual(ranks.toSorted((a, b) => b - a));
    }
  });
});

describe('the place', () => {
  it('never improves the stop margin with altitude: the same pump has less to give', () => {
    const stopAt = (elevation: number, share: number) => {
      const ambient = 101.325 * (1 - 2.25577e-5 * elevation) ** 5.25588;
      const reading = readingOn(asOf, { idle: share * ambient, lowest: null, barometer: ambient });
      const unit = { unit: '0417', elevation, builtOn: null, trackedFrom: null };
      return assessUnit(aUnit({ unit, readings: [reading] })).reasons.some(
        ({ rule }) => rule === 'idle below stop',
      );
    };
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 2800, noNaN: true }),
        fc.double({ min: 0, max: 2800, noNaN: true }),
        fc.double({ min: 0.1, max: 0.98, noNaN: true }),
        (a, b, share) => {
          if (stopAt(Math.min(a, b), share)) expect(stopAt(Math.max(a, b), share)).toBe(true);
        },
      ),
      runs,
    );
  });

  it('makes the stop nearer in time, never further', () => {
    const shares = [0.9, 0.86, 0.81, 0.77, 0.72];
    const earliest = (elevation: number) => {
      const ambient = 101.325 * (1 - 2.25577e-5 * elevation) ** 5.25588;
      const readings = shares.map((share, k) =>
        readingOn(asOf - 91 * (4 - k), { idle: share * ambient, lowest: null, barometer: ambient }),
      );
      const unit = { unit: '0417', elevation, builtOn: null, trackedFrom: null };
      return assessUnit(aUnit({ unit, readings })).stop.earliest80 ?? Number.POSITIVE_INFINITY;
    };
    const days = [0, 400, 800, 1200, 1600, 2000, 2400].map(earliest);
    expect(days).toEqual(days.toSorted((a, b) => b - a));
    expect(days[6]!).toBeLessThan(days[0]!);
  });
});

it('speaks in the reader’s unit of measure and judges the same', () => {
  const readings = soundThen({ idle: psi(9), lowest: psi(7.5) }).readings;
  const inPsi = assessUnit(aUnit({ readings }));
  const inMercury = assessUnit(aUnit({ readings, pressureUnit: 'inHg' }));
  expect(inMercury.mark).toBe(inPsi.mark);
  expect(inMercury.wear).toEqual(inPsi.wear);
  const limit = fromKilopascals(toKilopascals(10, 'psi'), 'inHg').toFixed(1);
  expect(inMercury.reasons.find(({ rule }) => rule === 'idle below caution')?.text).toContain(
    `${limit} inHg`,
  );
});

describe('thin data', () => {
  const thin = (...list: Reading[]) => assessUnit(aUnit({ readings: list }));
  it('has a named outcome at each count', () => {
    expect(thin().wear).toMatchObject({ score: null, median: null, whyNone: 'no reading' });
    for (const count of [1, 2, 3]) {
      const list = Array.from({ length: count }, (_, k) => readingOn(asOf - 91 * k));
      expect(thin(...list).wear).toMatchObject({ earliest80: null, whyNone: 'too few' });
    }
    expect(thin(readingOn(asOf)).idle).toMatchObject({ slopePerYear: null, slopeLower: null });
    expect(thin(readingOn(asOf), readingOn(asOf, { entry: 1 })).idle.slopePerYear).toBeNull();
  });

  it('knows a repair with no reading since', () => {
    const assessed = assessUnit(aUnit({ fitments: [fitted('pump', asOf - 1)] }));
    expect(assessed.wear.whyNone).toBe('no reading since the repair');
    expect(assessed.stop.whyNone).toBe('no reading since the repair');
    expect(assessed).toMatchObject({ segmentStart: asOf - 1, segmentPart: 'pump' });
  });

  it('finds no slope in constants and equal dates', () => {
    const same = [0, 91, 182, 273, 364].map((ago) => readingOn(asOf - ago));
    expect(thin(...same).idle.slopePerYear).toBe(0);
    const oneDay = [0, 1, 2, 3].map((entry) => readingOn(asOf, { entry, id: `e${entry}` }));
    expect(thin(...oneDay).idle.slopePerYear).toBeNull();
  });

  it('ignores a part removed before it was fitted', () => {
    const odd = { ...fitted('belt', asOf - 10), removedOn: asOf - 20 };
    expect(assessUnit(aUnit({ fitments: [odd] })).belt.whyNone).toBe('no belt on record');
  });
});
