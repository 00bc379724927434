import { describe, expect, it } from 'vitest';
import {
  kendallExactUpperTail,
  mannKendall,
  ordinaryLeastSquares,
  pettitt,
  senInterval,
  theilSen,
  trend,
} from '@/lib/statistics';
import { expectWithin, figuresOf, referenceCases, seriesOf } from './figures';

interface SlopeAnswer {
  slope: number;
  intercept: number;
  low: number;
  high: number;
}

interface TrendCase {
  id: string;
  t_days: number[];
  y: number[];
  ci80: SlopeAnswer;
  ci90: SlopeAnswer;
  ci95: SlopeAnswer;
}

interface KendallCase {
  id: string;
  y: number[];
  S: number;
  varS: number;
  z_continuity: number;
  p_two_sided_normal: number;
  tau_b: number | null;
  exact_p: number | null;
}

const years = (days: readonly number[]) => days.map((day) => day / 365.25);

describe('Theil-Sen against scipy 1.10.1 theilslopes(method="separate")', () => {
  it.each(referenceCases<TrendCase>('theil_sen'))('$id', ({ t_days, y, ci80, ci90, ci95 }) => {
    for (const [confidence, answer] of [
      [0.8, ci80],
      [0.9, ci90],
      [0.95, ci95],
    ] as const) {
      const line = theilSen(years(t_days), y, confidence);
      expectWithin(line.slope, answer.slope, 1e-9, 'slope');
      expectWithin(line.intercept, answer.intercept, 1e-9, 'intercept');
      expectWithin(line.lower, answer.low, 1e-9, 'lower');
      expectWithin(line.upper, answer.high, 1e-9, 'upper');
      expect(trend(years(t_days), y, confidence)).toEqual({ line, test: mannKendall(y) });
    }
  });
});

describe('Mann-Kendall against R 4.2.2 cor.test(method = "kendall")', () => {
  it.each(referenceCases<KendallCase>('mann_kendall'))('$id', (answer) => {
    const test = mannKendall(answer.y);
    expect(test.s).toBe(answer.S);
    expectWithin(test.variance, answer.varS, 1e-9, 'variance');
    expectWithin(test.z, answer.z_continuity, 1e-9, 'z');
    expectWithin(test.p, answer.p_two_sided_normal, 1e-9, 'p');
    if (answer.tau_b === null) expect(test.tau).toBeNull();
    else expectWithin(test.tau, answer.tau_b, 1e-9, 'tau');
    if (answer.exact_p !== null) {
      const exact = kendallExactUpperTail(Math.abs(answer.S), answer.y.length);
      expectWithin(Math.min(1, 2 * exact), answer.exact_p, 1e-9, 'exact p');
    }
  });

  it('gives the tau-b of scipy 1.10.1 kendalltau', () => {
    for (const { id, y, tau_b } of referenceCases<{
      id: string;
      y: number[];
      tau_b: number | null;
    }>('kendall_scipy')) {
      if (tau_b === null) expect(mannKendall(y).tau, id).toBeNull();
      else expectWithin(mannKendall(y).tau, tau_b, 1e-9, id);
    }
  });
});

interface SeriesAnswer {
  S: number;
  varS: number;
  Z: number;
  p2: number;
  sen: number;
  ci95_interp: [number, number];
  ci95_round?: [number, number];
}

interface TrendExamples {
  mann_kendall: (SeriesAnswer & { name: string })[];
}

describe('published worked examples', () => {
  const examples = figuresOf<TrendExamples>('trend_examples.json');

  // EPA QA/G-9 Box 4-6 (figures from memory), recomputed with R cor.test(exact = TRUE).
  it('EPA QA/G-9: five values', () => {
    const y = [5, 6, 11, 8, 10];
    expect(mannKendall(y).s).toBe(6);
    expectWithin(mannKendall(y).variance, 50 / 3, 1e-12);
    expectWithin(kendallExactUpperTail(6, 5), 0.1166666667, 1e-9);
  });

  // Wisconsin NR 746 Appendix A, Table A: S, and the critical S at alpha 0.2 for n = 4 to 10.
  it('Wisconsin NR 746: ties, and the table of critical S', () => {
    const test = mannKendall([100, 50, 85, 75, 50]);
    expect(test.s).toBe(-5);
    expectWithin(test.variance, 47 / 3, 1e-12);
    for (const [i, critical] of [4, 5, 6, 7, 8, 10, 11].entries()) {
      const n = i + 4;
      expect(kendallExactUpperTail(critical, n)).toBeLessThanOrEqual(0.21);
      expect(kendallExactUpperTail(critical - 2, n)).toBeGreaterThan(0.2);
    }
  });

  // Hollander, Wolfe and Chicken, Nonparametric Statistical Methods, example 9.1.
  it('Hollander and Wolfe: cloud seeding', () => {
    const x = [1, 2, 3, 4, 5];
    const y = [1.26, 1.27, 1.12, 1.16, 1.03];
    expectWithin(theilSen(x, y, 0.95).slope, -0.05625, 1e-12);
    expect(mannKendall(y).s).toBe(-6);
    expectWithin(kendallExactUpperTail(6, 5), 0.1166666667, 1e-9);
  });

  // Helsel and Hirsch, Statistical Methods in Water Resources, chapter 10 (data from memory).
  it('Helsel and Hirsch: one outlier does not turn the line', () => {
    const x = [1, 2, 3, 4, 5, 6, 7];
    const y = [1, 2, 3, 4, 5, 16, 7];
    expect(theilSen(x, y, 0.9)).toMatchObject({ slope: 1, intercept: 0 });
    const least = ordinaryLeastSquares(x, y);
    expectWithin(least.slope, 1.7142857143, 1e-9);
    expectWithin(least.intercept, -1.4285714286, 1e-9);
  });

  // R 4.2.2 on its own datasets; limits between ranks by Gilbert (1987), page 218, and to whole ranks.
  it.each([
    ['Nile', 'Nile (R datasets, n=100)'],
    ['LakeHuron', 'LakeHuron (n=98)'],
    ['nhtemp', 'nhtemp (n=60)'],
  ])('%s', (series, name) => {
    const { t, y } = seriesOf(series);
    const answer = examples.mann_kendall.find((example) => example.name === name)!;
    const test = mannKendall(y);
    expect(test.s).toBe(answer.S);
    expectWithin(test.variance, answer.varS, 1e-7);
    expectWithin(test.z, answer.Z, 1e-7);
    expectWithin(test.p, answer.p2, 1e-7);
    const line = theilSen(t, y, 0.95);
    expectWithin(line.slope, answer.sen, 1e-7);
    const between = senInterval(t, y, 0.95)!;
    expectWithin(between.lower, answer.ci95_interp[0], 1e-6);
    expectWithin(between.upper, answer.ci95_interp[1], 1e-6);
    if (answer.ci95_round) {
      expectWithin(line.lower, answer.ci95_round[0], 1e-7);
      expectWithin(line.upper, answer.ci95_round[1], 1e-7);
    }
  });

  // R strucchange 1.5-3 breaks the Nile at the same index; U* and p by R's trend::pettitt.test.
  it.each([
    ['Nile', 28, 1617, 3.591022e-7, 1e-6],
    ['UKDriverDeaths', 72, 5178, 3.029e-10, 1e-3],
  ])('Pettitt: %s changes after %i', (series, index, statistic, p, share) => {
    const change = pettitt(seriesOf(series).y);
    expect(change).toMatchObject({ index, statistic });
    expectWithin(change.p, p, share);
  });
});

// By hand: U is 2, 0 and 2 after one, two and three of these values.
it('Pettitt gives the earlier of two changes that tell as much', () => {
  expect(pettitt([1, 3, 3, 1])).toMatchObject({ index: 1, statistic: 2 });
});

// All but one value at one x, and most at one y, take more off the variance than there is, so that both
// limits lie at half the number of slopes: 9/2 goes to rank 4, the last slope of nought, and 11/2 to
// rank 6, the first of 1; ranks from nought, the lower limit one before.
it.each([
  [5, 4, 0],
  [6, 5, 1],
])(
  'Theil-Sen rounds a rank halfway to the even one: %d slopes of 0, %d of 1',
  (level, steep, upper) => {
    const others = level + steep;
    const line = theilSen(
      [...Array<number>(others).fill(0), 1],
      [...Array<number>(level).fill(0), ...Array<number>(steep).fill(-1), 0],
      0.9,
    );
    expect(line).toMatchObject({ slope: 0, lower: 0, upper });
  },
);

it('one sort serves both for a long series too', () => {
  const { t, y } = seriesOf('Nile');
  expect(y.length).toBeGreaterThan(64);
  expect(trend(t, y, 0.9)).toEqual({ line: theilSen(t, y, 0.9), test: mannKendall(y) });
});
