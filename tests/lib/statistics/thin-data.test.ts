import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ageReplacement,
  cumulativeRelativeAccuracy,
  cusum,
  cusumRunLength,
  ewma,
  ewmaRunLength,
  exponentialApproach,
  firstCrossing,
  huberRegression,
  individualsChart,
  kaplanMeier,
  kendallExactUpperTail,
  localLevelDrift,
  logRank,
  mannKendall,
  median,
  medianAbsoluteDeviation,
  multipleRegression,
  ordinaryLeastSquares,
  pettitt,
  prognosticHorizon,
  randomSlopes,
  relativeAccuracy,
  senInterval,
  studentT,
  theilSen,
  trend,
  weibullFit,
} from '@/lib/statistics';
import {
  requireConfidence,
  requirePositive,
  requireProbability,
  requireSamples,
} from '@/lib/statistics/require-samples';

const model = { noiseVariance: 1, levelVariance: 0.1, driftMean: 0, driftVariance: 1 };

/** Every estimator on one history; the second column also serves as times of failure. */
const estimators: Record<string, (x: number[], y: number[]) => unknown> = {
  theilSen: (x, y) => theilSen(x, y, 0.9),
  trend: (x, y) => trend(x, y, 0.9),
  mannKendall: (_, y) => mannKendall(y),
  kendallExactUpperTail: (_, y) => kendallExactUpperTail(0, y.length),
  senInterval: (x, y) => senInterval(x, y, 0.9),
  ordinaryLeastSquares,
  huberRegression,
  multipleRegression: (x, y) => multipleRegression([x], y),
  exponentialApproach,
  localLevelDrift: (x, y) =>
    localLevelDrift(
      x.toSorted((a, b) => a - b),
      y,
      model,
    ),
  randomSlopes: (x, y) => randomSlopes([{ t: x, y }]),
  randomSlopesOfTwo: (x, y) =>
    randomSlopes([
      { t: x, y },
      { t: x, y },
    ]),
  weibullFit: (x, y) =>
    weibullFit(
      y.map(Math.abs),
      x.map((value) => value > 1),
    ),
  kaplanMeier: (x, y) =>
    kaplanMeier(
      y.map(Math.abs),
      x.map((value) => value > 1),
    ),
  logRank: (x, y) =>
    logRank([
      { times: y.map(Math.abs), failed: x.map((value) => value > 1) },
      { times: x, failed: x.map(() => true) },
    ]),
  median: (_, y) => median(y),
  medianAbsoluteDeviation: (_, y) => medianAbsoluteDeviation(y),
  pettitt: (_, y) => pettitt(y),
  individualsChart: (_, y) => individualsChart(y),
  ewma: (_, y) => ewma(y, { lambda: 0.2, target: 0, sigma: 1 }),
  cusum: (_, y) => cusum(y, { target: 0, reference: 0.5, interval: 4 }),
  firstCrossing: (x, y) => firstCrossing(x, y, 0),
  prognostics: (x, y) => {
    const forecasts = x.map((at, i) => ({ at, remaining: y[i]! }));
    return [
      cumulativeRelativeAccuracy(forecasts, 3),
      prognosticHorizon(forecasts, 3, 0.1),
      ...forecasts.map((forecast) => relativeAccuracy(forecast, 3)),
    ];
  },
};

function expectNoNaN(value: unknown): void {
  if (typeof value === 'number') expect(value).not.toBeNaN();
  else if (value !== null && typeof value === 'object') Object.values(value).forEach(expectNoNaN);
}

describe.each(Object.entries(estimators))('%s', (_, estimate) => {
  it.each<[string, number[], number[]]>([
    ['nothing', [], []],
    ['one point', [1], [2]],
    ['two points', [1, 2], [2, 3]],
    ['two points at one x', [1, 1], [2, 3]],
    ['constant', [0, 1, 2, 3, 4], [13, 13, 13, 13, 13]],
    ['all nought', [0, 0, 0, 0], [0, 0, 0, 0]],
    ['all at one x', [2, 2, 2, 2], [1, 2, 3, 4]],
    ['ties everywhere', [0, 0, 2, 2, 2], [1, 1, 5, 5, 5]],
    ['a perfect line', [0, 1, 2, 3, 4], [0, 1, 2, 3, 4]],
  ])('answers %s without NaN', (__, x, y) => {
    expectNoNaN(estimate(x, y));
  });

  it('answers any short history without NaN', () => {
    const value = fc.integer({ min: -3, max: 6 });
    fc.assert(
      fc.property(fc.array(fc.tuple(value.map(Math.abs), value), { maxLength: 7 }), (points) => {
        expectNoNaN(
          estimate(
            points.map(([x]) => x),
            points.map(([, y]) => y),
          ),
        );
      }),
    );
  });
});

describe('names why there is none', () => {
  it('too few, or nothing to go by', () => {
    expect(theilSen([], [], 0.9).whyNone).toBe('too few');
    expect(theilSen([5, 5], [1, 2], 0.9).whyNone).toBe('no spread in x');
    expect(mannKendall([1]).whyNone).toBe('too few');
    expect(mannKendall([1, 1, 1])).toMatchObject({ s: 0, z: 0, p: 1, tau: null });
    expect(ordinaryLeastSquares([1, 2], [1, 2])).toMatchObject({ slope: 1, slopeError: null });
    expect(
      multipleRegression(
        [
          [1, 2, 3],
          [2, 4, 6],
        ],
        [1, 2, 4],
      ).whyNone,
    ).toBe('columns depend on each other');
    expect(
      multipleRegression(
        [
          [5, 5, 5],
          [1, 2, 4],
        ],
        [1, 2, 4],
      ).whyNone,
    ).toBe('columns depend on each other');
    expect(
      multipleRegression(
        [
          [1, 2],
          [2, 1],
        ],
        [1, 2],
      ).whyNone,
    ).toBe('too few');
    expect(multipleRegression([[1, 2]], [1, 3])).toMatchObject({
      coefficients: [-1, 2],
      errors: null,
      residualError: null,
    });
    expect(individualsChart([5])).toEqual({
      centre: null,
      movingRange: null,
      lower: null,
      upper: null,
      beyond: [],
      whyNone: 'too few',
    });
    expect(individualsChart([1, 3])).toMatchObject({ centre: 2, movingRange: 2, beyond: [] });
    expect(individualsChart([2, 2, 2]).beyond).toEqual([]);
    expect(ordinaryLeastSquares([1], [1]).whyNone).toBe('too few');
    expect(ordinaryLeastSquares([3, 3], [1, 2]).whyNone).toBe('no spread in x');
    expect(pettitt([2]).whyNone).toBe('too few');
    expect(pettitt([1, 2])).toMatchObject({ index: 1, statistic: 1 });
    expect(pettitt([2, 2, 2]).whyNone).toBe('all equal');
    expect(localLevelDrift([], [], model)).toMatchObject({ innovations: [], whyNone: 'no values' });
    expect(localLevelDrift([3], [7], model)).toMatchObject({ level: 7, innovations: [] });
    expect(randomSlopes([{ t: [0, 1], y: [1, 2] }])).toMatchObject({
      units: [],
      whyNone: 'too few',
    });
    const single = { t: [0], y: [1] };
    expect(randomSlopes([single, { t: [1], y: [3] }]).whyNone).toBe('too few');
    const loner = { t: [0, 1, 2, 3], y: [1, 2, 4, 3] };
    expect(randomSlopes([loner, { t: [], y: [] }]).whyNone).toBe('too few');
    const three = [loner, { t: [0], y: [2] }].map(({ t, y }) => ({
      t: t.slice(0, 2),
      y: y.slice(0, 2),
    }));
    expect(randomSlopes(three).whyNone).not.toBe('too few');
    expect(
      randomSlopes([
        { t: [5, 5], y: [1, 2] },
        { t: [5], y: [3] },
      ]).whyNone,
    ).toBe('no spread in t');
    for (const t of [0.1, 40000.1, 1e6])
      for (const correlated of [true, false]) {
        const histories = [
          { t: [t, t, t], y: [1, 3, 4.5] },
          { t: [t], y: [2] },
        ];
        expect(randomSlopes(histories, { correlated }).whyNone).toBe('no spread in t');
      }
    // Nor is one that rounding could make.
    const neighbours = { t: [1, 1 + Number.EPSILON], y: [1, 2] };
    expect(randomSlopes([neighbours, neighbours]).whyNone).toBe('no spread in t');
    expect(
      randomSlopes([
        { t: [0, 1], y: [0, 1] },
        { t: [2, 3], y: [2, 3] },
      ]).whyNone,
    ).toBe('no scatter');
    expect(median([])).toBeNull();
  });

  it('no bend in a straight line or a step', () => {
    const t = Array.from({ length: 12 }, (_, i) => i);
    expect(exponentialApproach(t, t).whyNone).toBe('no bend');
    expect(
      exponentialApproach(
        t,
        t.map(() => 4),
      ).whyNone,
    ).toBe('no change');
  });

  it('a bend from too little', () => {
    expect(exponentialApproach([0, 1, 2], [0, 8, 12]).whyNone).toBe('too few');
    expect(exponentialApproach([0, 0, 1, 1], [0, 1, 8, 9]).whyNone).toBe('too few');
    expect(exponentialApproach([0, 1, 2, 2], [0, 8, 12, 12]).end).toBeCloseTo(16, 8);
    expect(huberRegression([0, 1, 2], [1, 3, 5])).toMatchObject({ scale: 0, hasConverged: true });
    expect(huberRegression([0], [1])).toEqual({
      intercept: null,
      slope: null,
      scale: null,
      hasConverged: false,
      whyNone: 'too few',
    });
  });

  it('no signal before a limit is passed', () => {
    const average = (...values: number[]) =>
      ewma(values, { lambda: 1, target: 0, sigma: 1 }).signalAt;
    expect([average(), average(1, 3, -3), average(0, -3.1), average(3.1)]).toEqual([
      null,
      null,
      1,
      0,
    ]);
    const sums = (...values: number[]) =>
      cusum(values, { target: 0, reference: 0, interval: 2 }).highSignalAt;
    expect([sums(), sums(1, 1), sums(1, 1, 1), sums(3)]).toEqual([null, null, 2, 0]);
  });

  it('lives without enough failures', () => {
    expect(weibullFit([5, 6], [false, true]).whyNone).toBe('fewer than 2 failures');
    expect(weibullFit([5, 5, 3], [true, true, false]).whyNone).toBe('no spread in failures');
    expect(weibullFit([0, 5, 6], [true, true, true]).whyNone).toBe('time not above zero');
    expect(logRank([{ times: [1, 2], failed: [1, 1] }]).whyNone).toBe(
      'fewer than 2 groups at risk',
    );
    expect(logRank([{ times: [1], failed: [0] }]).whyNone).toBe('no failures');
    expect(kaplanMeier([], [])).toEqual([]);
  });

  it('no planned replacement', () => {
    const costs = { shape: 1, scale: 10, plannedCost: 1, failureCost: 5 };
    expect(ageReplacement(costs)).toMatchObject({ age: null, whyNone: 'does not wear out' });
    expect(ageReplacement(costs).costRate).toBeCloseTo(0.5, 12);
    expect(ageReplacement({ ...costs, shape: 3, failureCost: 1 }).whyNone).toBe(
      'failure costs no more',
    );
    expect(ageReplacement({ ...costs, shape: 1.0001, failureCost: 1.0001 }).whyNone).toBe(
      'later than any would last',
    );
  });
});

describe('refuses what only a defect can pass', () => {
  it.each([0, 1, -0.1, 1.5, Number.NaN])('confidence %d', (confidence) => {
    expect(() => theilSen([1, 2], [1, 2], confidence)).toThrow(RangeError);
    expect(() => kaplanMeier([1], [1], { confidence })).toThrow(RangeError);
  });

  it('unequal columns, values that are not finite, parameters out of range', () => {
    expect(() => theilSen([1, 2], [1], 0.9)).toThrow(RangeError);
    expect(() => mannKendall([1, Number.NaN])).toThrow(RangeError);
    expect(() => studentT.quantile(0.5, 0)).toThrow(RangeError);
    expect(() => studentT.quantile(1.5, 2)).toThrow(RangeError);
    expect(() => localLevelDrift([1, 0], [1, 2], model)).toThrow('time 1 runs backwards');
    expect(() => localLevelDrift([0], [1], { ...model, noiseVariance: 0 })).toThrow(
      'noiseVariance must be above zero',
    );
  });

  it('by name and value', () => {
    expect(() => requireSamples([1, 2], [1])).toThrow('columns differ in length: 2 and 1');
    expect(() => requireSamples([1, Infinity])).toThrow('value 1 is not a finite number');
    expect(() => requireSamples()).not.toThrow();
    expect(() => requireConfidence(1)).toThrow('confidence must lie between 0 and 1, not 1');
    expect(() => requirePositive({ scale: 0 })).toThrow('scale must be above zero, not 0');
    for (const p of [-1e-9, 1 + 1e-9, Number.NaN])
      expect(() => requireProbability(p)).toThrow(`a probability lies in 0 to 1, not ${p}`);
    for (const p of [0, 0.5, 1]) expect(() => requireProbability(p)).not.toThrow();
    const chart = { lambda: 0.2, target: 0, sigma: 1, reference: 0, interval: 1 };
    expect(() => ewma([1], { ...chart, lambda: 0 })).toThrow('lambda must be above zero');
    expect(() => ewma([1], { ...chart, sigma: 0 })).toThrow('sigma must be above zero');
    expect(() => cusum([1], { ...chart, interval: 0 })).toThrow('interval must be above zero');
    expect(() => cusumRunLength({ reference: 1, interval: 0 })).toThrow('interval must be above');
    for (const name of ['lambda', 'limit'])
      expect(() => ewmaRunLength({ lambda: 1, limit: 3, [name]: 0 })).toThrow(
        `${name} must be above`,
      );
    expect(() => ewmaRunLength({ lambda: 1.5, limit: 3 })).toThrow(
      'lambda lies in 0 to 1, not 1.5',
    );
  });
});
