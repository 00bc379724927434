import { describe, expect, it } from 'vitest';
import {
  cumulativeRelativeAccuracy,
  cusum,
  cusumRunLength,
  ewma,
  ewmaRunLength,
  individualsChart,
  isWithinCone,
  normal,
  prognosticHorizon,
  relativeAccuracy,
} from '@/lib/statistics';
import { findRoot } from '@/lib/statistics/find-root';
import { expectWithin, figuresOf, referenceCases, tableOf } from './figures';

interface Charts {
  individuals_6_3_2_2: { x: number[]; mean: number; mrBar: number; UCL: number; LCL: number };
  ewma_6_3_2_4: {
    x: number[];
    lambda: number;
    target: number;
    sigma: number;
    L: number;
    ewma: number[];
    UCL: number;
    LCL: number;
  };
  cusum_6_3_2_3: {
    x: number[];
    target: number;
    k: number;
    h: number;
    sHigh: number[];
    sLow: number[];
    firstHighSignalGroup: number;
  };
  cusum_FIR: {
    x: number[];
    k: number;
    h: number;
    noFIR: number[];
    'FIR_S0_2.5': number[];
    signalNoFIR: number;
    signalFIR: number;
  };
}

const charts = figuresOf<Charts>('control_charts.json');
const near = (actual: readonly number[], expected: readonly number[], distance: number) => {
  expect(actual).toHaveLength(expected.length);
  for (const [i, value] of expected.entries()) {
    expect(Math.abs(actual[i]! - value), `value ${i}`).toBeLessThanOrEqual(distance);
  }
};

describe('NIST/SEMATECH e-Handbook, section 6.3.2', () => {
  it('individuals chart', () => {
    const answer = charts.individuals_6_3_2_2;
    const chart = individualsChart(answer.x);
    near(
      [chart.centre!, chart.movingRange!, chart.upper!, chart.lower!],
      [answer.mean, answer.mrBar, answer.UCL, answer.LCL],
      5e-5,
    );
    expect(chart.beyond).toEqual([]);
  });

  // Mean 0.9, moving ranges 0 but for the last, 9: limits at 0.9 ∓ 3 / 1.128.
  it('individuals chart names the values beyond its limits', () => {
    expect(individualsChart([0, 0, 0, 0, 0, 0, 0, 0, 0, 9]).beyond).toEqual([9]);
    expect(individualsChart([-9, 0, 0, 0, 0, 0, 0, 0, 0, 0]).beyond).toEqual([0]);
  });

  it('exponentially weighted moving average', () => {
    const answer = charts.ewma_6_3_2_4;
    const chart = ewma(answer.x, { ...answer, limit: answer.L });
    near(chart.averages, answer.ewma, 0.0051);
    // The handbook rounds sqrt(.3/1.7) to .4201; unrounded the limits are 52.58843 and 47.41157.
    near([chart.upper, chart.lower], [answer.UCL, answer.LCL], 1e-4);
    expect(chart.signalAt).toBeNull();
  });

  it('cumulative sums', () => {
    const answer = charts.cusum_6_3_2_3;
    const chart = cusum(answer.x, {
      target: answer.target,
      reference: answer.k,
      interval: answer.h,
    });
    near(chart.high, answer.sHigh, 0.0051);
    near(chart.low, answer.sLow, 0.0051);
    expect(chart.highSignalAt! + 1).toBe(answer.firstHighSignalGroup);
    expect(chart.lowSignalAt).toBeNull();
  });
});

// Lucas and Crosier, Technometrics 24 (1982), table 5.
it('fast initial response signals sooner', () => {
  const { x, k, h, ...answer } = charts.cusum_FIR;
  const chart = (headStart: number) =>
    cusum(x, { target: 0, reference: k, interval: h, headStart });
  near(chart(0).high, answer.noFIR, 1e-9);
  near(chart(2.5).high, answer['FIR_S0_2.5'], 1e-9);
  expect(chart(0).highSignalAt! + 1).toBe(answer.signalNoFIR);
  expect(chart(2.5).highSignalAt! + 1).toBe(answer.signalFIR);
});

interface RunLengthCase {
  chart: 'cusum' | 'ewma';
  sided: 'one' | 'two';
  solve_for?: 'h';
  k: number;
  h: number;
  lambda: number;
  c: number;
  arl0: number;
  arl_shift1?: number;
  'arl_shift0.5'?: number;
  arl_shift2?: number;
}

// Solving the chain with subtractions costs R figures in proportion to the run length.
const rounding = (length: number) => Math.max(1e-9, Number.EPSILON * length);

describe('run lengths against R spc 0.6.7', () => {
  const cases = referenceCases<RunLengthCase>('arl');

  it.each(cases.filter((answer) => !answer.solve_for))(
    '$chart $sided $k $h $lambda $c',
    (answer) => {
      const at = (shift: number) =>
        answer.chart === 'cusum'
          ? cusumRunLength({ reference: answer.k, interval: answer.h, sided: answer.sided, shift })
          : ewmaRunLength({ lambda: answer.lambda, limit: answer.c, sided: answer.sided, shift });
      for (const [shift, expected] of [
        [0, answer.arl0],
        [0.5, answer['arl_shift0.5']],
        [1, answer.arl_shift1],
        [2, answer.arl_shift2],
      ] as const) {
        if (expected !== undefined)
          expectWithin(at(shift), expected, rounding(expected), `shift ${shift}`);
      }
    },
  );

  it.each(cases.filter((answer) => answer.solve_for))('interval for $arl0', ({ k, arl0, h }) => {
    const excess = (interval: number) =>
      cusumRunLength({ reference: k, interval, sided: 'one' }) - arl0;
    expectWithin(findRoot(excess, 2, 8), h, 1e-7);
  });
});

// R spc 0.6.7: xcusum.arl(k, h, mu, hs, sided = "two", r = 60).
it.each([
  [4, 0.25, 0, 74.22402788501],
  [4, 0.25, 2, 62.69824122724],
  [5, 1, 2.5, 6.34685046833],
])('watched on both sides: h %d, shift %d, head start %d', (interval, shift, headStart, length) => {
  for (const turned of [shift, -shift]) {
    const actual = cusumRunLength({ reference: 0.5, interval, shift: turned, headStart });
    expectWithin(actual, length, 1e-9);
  }
});

// R spc 0.6.7: xewma.arl(0.005, 2.5, 0, sided = "two", r = 150); r = 300 gives the same.
it('keeps the figures of an average that moves slowly', () => {
  expectWithin(ewmaRunLength({ lambda: 0.005, limit: 2.5 }), 2886.89722226, 1e-9);
});

// mpmath 1.3.0 with 40 digits, in reference/run_length.py; R gives 43271577.2296774.
it('keeps its figures over 4e7 readings', () => {
  const length = cusumRunLength({ reference: 1, interval: 8, sided: 'one' });
  expectWithin(length, 43_271_577.024_167_75, 1e-12);
});

it('an average of the newest reading alone is a Shewhart chart', () => {
  for (const [limit, shift] of [
    [3, 0],
    [2, 1],
  ] as const) {
    const signal = normal.upperTail(limit - shift) + normal.upperTail(limit + shift);
    expectWithin(ewmaRunLength({ lambda: 1, limit, shift }), 1 / signal, 1e-9);
  }
});

describe('published run-length tables', () => {
  // Montgomery, Hawkins (from memory) and Lucas and Saccucci 1990, recomputed with R spc 0.6.7.
  it.each(tableOf('arl_tables.csv'))('$chart $par1 $par2', (row) => {
    const [par1, par2] = [Number(row.par1), Number(row.par2)];
    for (const [column, expected] of Object.entries(row)) {
      const shift = /^shift_(.*)$/.exec(column)?.[1];
      if (shift === undefined) continue;
      const actual = row.chart!.startsWith('cusum')
        ? cusumRunLength({
            reference: par1,
            interval: par2,
            shift: Number(shift),
            sided: row.chart!.includes('one') ? 'one' : 'two',
            headStart: row.chart!.includes('FIR') ? par2 / 2 : 0,
          })
        : ewmaRunLength({ lambda: par1, limit: par2, shift: Number(shift) });
      expect(Math.abs(actual - Number(expected)), column).toBeLessThan(1e-4);
    }
  });

  // Lucas and Saccucci, Technometrics 32 (1990), table 3: limits for a run length of 500 in control.
  it.each([
    [0.05, 2.615],
    [0.1, 2.814],
    [0.25, 2.998],
    [0.5, 3.071],
  ])('EWMA of %d needs L %d', (lambda, expected) => {
    const limit = findRoot((l) => ewmaRunLength({ lambda, limit: l }) - 500, 2, 4);
    expect(Math.abs(limit - expected)).toBeLessThanOrEqual(0.001);
  });
});

// Saxena and others (2010): a constant band for the horizon, a shrinking cone for alpha-lambda.
describe('prognostic metrics', () => {
  const figures = figuresOf<{
    trueEOL: number;
    predictions: { t: number; rul: number; RA: number }[];
    CRA: number;
    PH_fixed_band: { alpha: number; PH: number }[];
    alphaLambda_cone: { alpha: number; t: number; inside: boolean }[];
  }>('prognostics_metrics.json');
  const forecasts = figures.predictions.map(({ t, rul }) => ({ at: t, remaining: rul }));

  it('relative accuracy, one and cumulative', () => {
    for (const [i, { RA }] of figures.predictions.entries()) {
      expectWithin(relativeAccuracy(forecasts[i]!, figures.trueEOL), RA, 1e-12);
    }
    expectWithin(cumulativeRelativeAccuracy(forecasts, figures.trueEOL), figures.CRA, 1e-12);
  });

  it('reads forecasts in order of time, whatever order they come in', () => {
    const [{ alpha, PH }] = figures.PH_fixed_band as [(typeof figures.PH_fixed_band)[0]];
    expect(prognosticHorizon(forecasts.toReversed(), figures.trueEOL, alpha)).toBe(PH);
    expect(prognosticHorizon([], figures.trueEOL, alpha)).toBeNull();
    // At the end of life no cone is left.
    expect(isWithinCone({ at: 48, remaining: 0 }, 48, 0.2)).toBe(false);
    expect(isWithinCone({ at: 23, remaining: 20 }, 48, 0.2)).toBe(true);
  });

  it('a forecast on the edge of the band or the cone is within it', () => {
    const forecast = { at: 10, remaining: 34 };
    expect(prognosticHorizon([forecast], 40, 4 / 40)).toBe(30);
    expect(isWithinCone({ at: 8, remaining: 40 }, 40, 0.25)).toBe(true);
  });

  it.each(figures.PH_fixed_band)('horizon at alpha $alpha', ({ alpha, PH }) => {
    expect(prognosticHorizon(forecasts, figures.trueEOL, alpha)).toBe(PH);
  });

  it.each(figures.alphaLambda_cone)('cone of $alpha at $t', ({ alpha, t, inside }) => {
    const forecast = forecasts.find(({ at }) => at === t)!;
    expect(isWithinCone(forecast, figures.trueEOL, alpha)).toBe(inside);
  });
});
