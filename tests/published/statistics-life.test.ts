import { describe, expect, it } from 'vitest';
import {
  ageReplacement,
  firstCrossing,
  kaplanMeier,
  logRank,
  weibull,
  weibullFit,
} from '@/lib/statistics';
import { expectWithin, figuresOf, referenceCases, tableOf } from './figures';

interface LivesCase {
  id: string;
  miles: number[];
  failed: number[];
}

interface WeibullCase extends LivesCase {
  expect?: string;
  shape: number;
  scale: number;
  cov_intercept_logsigma: number[][];
  loglik: number;
  B10: number;
  B10_lo90: number;
  B10_hi90: number;
}

interface SurvivalCase extends LivesCase {
  time: number[];
  n_risk: number[];
  n_event: number[];
  n_censor: number[];
  surv: number[];
  greenwood_se_surv: (number | null)[];
  loglog_lo95: (number | null)[];
  loglog_hi95: (number | null)[];
  log_lo95: (number | null)[];
  log_hi95: (number | null)[];
}

describe('Weibull against R survival 3.5.3 survreg', () => {
  const cases = referenceCases<WeibullCase>('weibull');

  it.each(cases.filter((answer) => !answer.expect))('$id', (answer) => {
    const fit = weibullFit(answer.miles, answer.failed);
    expectWithin(fit.shape, answer.shape, 1e-9, 'shape');
    expectWithin(fit.scale, answer.scale, 1e-9, 'scale');
    expectWithin(fit.logLikelihood, answer.loglik, 1e-9, 'log likelihood');
    const life = fit.intervals!.tenPercentLife;
    expectWithin(life.value, answer.B10, 1e-9, 'ten per cent life');
    expectWithin(life.lower, answer.B10_lo90, 1e-9, 'lower');
    expectWithin(life.upper, answer.B10_hi90, 1e-9, 'upper');
    for (const [i, row] of answer.cov_intercept_logsigma.entries()) {
      for (const [j, value] of row.entries()) {
        expectWithin(fit.intervals!.covariance[i]![j], value, 1e-8, `covariance ${i}${j}`);
      }
    }
  });

  it.each(cases.filter((answer) => answer.expect))('refuses $id', ({ miles, failed }) => {
    expect(weibullFit(miles, failed)).toMatchObject({
      shape: null,
      whyNone: 'fewer than 2 failures',
    });
  });

  // NIST/SEMATECH e-Handbook 8.4.1: published 1.7208, 606.528, -75.135.
  it('e-Handbook 8.4.1', () => {
    const { nist_weibull_8_4_1: example } = figuresOf<{
      nist_weibull_8_4_1: { failures: number[]; mle: Record<string, number> };
    }>('life_examples.json');
    const fitted = (failures: number[]) =>
      weibullFit(
        [...failures, ...Array<number>(10).fill(500)],
        [...failures.map(() => 1), ...Array<number>(10).fill(0)],
      );
    const { shape, scale, logLikelihood } = fitted(example.failures);
    expectWithin(shape, example.mle.shape!, 1e-8);
    expectWithin(scale, example.mle.scale!, 1e-8);
    expectWithin(logLikelihood, example.mle.logLik!, 1e-8);
    // The handbook's own listing has 55 for the first failure, and prints mean 540.175 for it.
    const listing = fitted([55, ...example.failures.slice(1)]);
    expectWithin(listing.shape, 1.72563, 1e-5);
    expectWithin(listing.scale, 606.005, 1e-5);
    expectWithin(weibull.meanLife(listing.shape!, listing.scale!), 540.175, 1e-5);
  });

  it('with a prior is the top of likelihood times prior', () => {
    const times = [310, 420, 150, 600, 95, 600, 600];
    const failed = [1, 1, 1, 0, 1, 0, 0];
    const shapePrior = { logMean: Math.log(3), logDeviation: 0.3 };
    // The scale that suits a shape best leaves a curve of the shape alone.
    const posterior = (logShape: number) => {
      const shape = Math.exp(logShape);
      const scale = (times.reduce((sum, t) => sum + t ** shape, 0) / 4) ** (1 / shape);
      const likelihood = times.reduce(
        (sum, t, i) =>
          sum -
          (t / scale) ** shape +
          failed[i]! * (Math.log(shape / scale) + (shape - 1) * Math.log(t / scale)),
        0,
      );
      return likelihood - ((logShape - shapePrior.logMean) / shapePrior.logDeviation) ** 2 / 2;
    };
    const top = Math.log(weibullFit(times, failed, { shapePrior }).shape!);
    const slope = (posterior(top + 1e-4) - posterior(top - 1e-4)) / 2e-4;
    expect(Math.abs(slope)).toBeLessThan(1e-5);
    expect(posterior(top)).toBeGreaterThan(posterior(top + 0.1));
    expect(posterior(top)).toBeGreaterThan(posterior(top - 0.1));
  });

  it('with a prior has the spread of likelihood times prior', () => {
    const times = [310, 420, 150, 600, 95, 600, 600];
    const failed = [1, 1, 1, 0, 1, 0, 0];
    const shapePrior = { logMean: Math.log(3), logDeviation: 0.3 };
    const logPosterior = ([intercept, logSigma]: readonly [number, number]) => {
      const shape = Math.exp(-logSigma);
      const likelihood = times.map((t, i) => {
        const z = shape * (Math.log(t) - intercept);
        return failed[i]! * (Math.log(shape) + z) - Math.exp(z);
      });
      const prior = ((-logSigma - shapePrior.logMean) / shapePrior.logDeviation) ** 2 / 2;
      return likelihood.reduce((sum, part) => sum + part) - prior;
    };
    const { shape, scale, intervals } = weibullFit(times, failed, { shapePrior });
    const h = 1e-3;
    const at = (i: number, j: number) =>
      logPosterior([Math.log(scale!) + i * h, -Math.log(shape!) + j * h]);
    const a = (2 * at(0, 0) - at(1, 0) - at(-1, 0)) / h ** 2;
    const c = (2 * at(0, 0) - at(0, 1) - at(0, -1)) / h ** 2;
    const b = (at(1, -1) + at(-1, 1) - at(1, 1) - at(-1, -1)) / (4 * h ** 2);
    const [[first, both], [, second]] = intervals!.covariance as [
      [number, number],
      [number, number],
    ];
    expectWithin(first, c / (a * c - b * b), 1e-4);
    expectWithin(both, -b / (a * c - b * b), 1e-4);
    expectWithin(second, a / (a * c - b * b), 1e-4);
  });

  // Diesel generator fans, Nelson (1982); R survival 3.5-3 survreg.
  it('generator fans', () => {
    const rows = tableOf('life_genfan.csv');
    const fit = weibullFit(
      rows.map((row) => Number(row.hours)),
      rows.map((row) => Number(row.status)),
    );
    expectWithin(fit.shape, 1.058446, 1e-6);
    expectWithin(fit.scale, 26296.845, 1e-6);
  });
});

describe('Kaplan-Meier against R survival 3.5.3 survfit', () => {
  it.each(referenceCases<SurvivalCase>('kaplan_meier'))('$id', (answer) => {
    const rows = kaplanMeier(answer.miles, answer.failed);
    const logRows = kaplanMeier(answer.miles, answer.failed, { interval: 'log' });
    const agree = (actual: number | null, expected: number | null, what: string) => {
      if (expected === null) expect(actual, what).toBeNull();
      else expectWithin(actual, expected, 1e-9, what);
    };
    expect(rows.map(({ time }) => time)).toEqual(answer.time);
    expect(rows.map(({ atRisk }) => atRisk)).toEqual(answer.n_risk);
    expect(rows.map(({ failures }) => failures)).toEqual(answer.n_event);
    expect(rows.map(({ censored }) => censored)).toEqual(answer.n_censor);
    for (const [i, row] of rows.entries()) {
      agree(row.survival, answer.surv[i]!, 'survival');
      agree(row.standardError, answer.greenwood_se_surv[i]!, 'standard error');
      agree(row.lower, answer.loglog_lo95[i]!, 'log-log lower');
      agree(row.upper, answer.loglog_hi95[i]!, 'log-log upper');
      agree(logRows[i]!.lower, answer.log_lo95[i]!, 'log lower');
      agree(logRows[i]!.upper, answer.log_hi95[i]!, 'log upper');
    }
  });

  // NIST/SEMATECH e-Handbook 8.2.1.5.
  it('e-Handbook 8.2.1.5', () => {
    const { nist_km_8_2_1_5: example } = figuresOf<{
      nist_km_8_2_1_5: Record<'failures' | 'removed' | 'nAtRisk' | 'R' | 'greenwoodSE', number[]>;
    }>('life_examples.json');
    const ended = [...example.removed!, ...Array<number>(10).fill(200)];
    const rows = kaplanMeier(
      [...example.failures!, ...ended],
      [...example.failures!.map(() => true), ...ended.map(() => false)],
    ).filter(({ failures }) => failures > 0);
    expect(rows.map(({ atRisk }) => atRisk)).toEqual(example.nAtRisk);
    for (const [i, { survival, standardError }] of rows.entries()) {
      expect(Math.abs(survival - example.R![i]!)).toBeLessThan(5e-6);
      expect(Math.abs(standardError! - example.greenwoodSE![i]!)).toBeLessThan(5e-6);
    }
  });
});

// Acute myelogenous leukaemia, Miller (1981), R survival::aml: data from memory, survival as in
// life_examples.json; survdiff prints chi-square 3.4 on 1, p 0.07 (from memory), and
// reference/log_rank.py gives the further figures.
describe('maintenance of leukaemia', () => {
  const maintained = {
    times: [9, 13, 13, 18, 23, 28, 31, 34, 45, 48, 161],
    failed: [1, 1, 0, 1, 1, 0, 1, 1, 0, 1, 0],
  };
  const unmaintained = {
    times: [5, 5, 8, 8, 12, 16, 23, 27, 30, 33, 43, 45],
    failed: [1, 1, 1, 1, 1, 0, 1, 1, 1, 1, 1, 1],
  };

  it('Kaplan-Meier', () => {
    const { aml_km } = figuresOf<{ aml_km: { maintained: { t: number[]; S: number[] } } }>(
      'life_examples.json',
    );
    const rows = kaplanMeier(maintained.times, maintained.failed).filter(
      ({ failures }) => failures > 0,
    );
    expect(rows.map(({ time }) => time)).toEqual(aml_km.maintained.t);
    for (const [i, { survival }] of rows.entries()) {
      expectWithin(survival, aml_km.maintained.S[i]!, 2e-6);
    }
  });

  it('log-rank', () => {
    const test = logRank([maintained, unmaintained]);
    expect(test.degreesOfFreedom).toBe(1);
    expectWithin(test.chiSquare, 3.3963887, 1e-7);
    expectWithin(test.p, 0.06533932, 1e-6);
  });

  const third = { times: [7, 10, 13, 20, 22, 25, 60], failed: [1, 0, 1, 1, 1, 0, 1] };

  // R survival 3.5.3 survdiff, with a third group made up.
  it('log-rank of three groups, in any order', () => {
    for (const groups of [
      [maintained, unmaintained, third],
      [third, maintained, unmaintained],
    ]) {
      const test = logRank(groups);
      expect(test.degreesOfFreedom).toBe(2);
      expectWithin(test.chiSquare, 3.29683986762, 1e-10);
      expectWithin(test.p, 0.192353600051, 1e-10);
    }
  });

  it('log-rank leaves out a group that no failure could have been of', () => {
    const two = logRank([maintained, unmaintained]);
    for (const absent of [
      { times: [], failed: [] },
      { times: [1, 4], failed: [0, 0] },
    ])
      for (const groups of [
        [absent, maintained, unmaintained],
        [maintained, absent, unmaintained],
        [maintained, unmaintained, absent],
      ]) {
        const test = logRank(groups);
        expect(test.degreesOfFreedom).toBe(1);
        expectWithin(test.chiSquare, two.chiSquare!, 1e-12);
      }
  });
});

describe('age replacement', () => {
  // R 4.2.2 integrate and optimize; the optimum's place is flat, its cost is not.
  it.each(
    referenceCases<{
      shape: number;
      scale: number;
      cost_ratio: number;
      T_opt: number | null;
      cost_at_T_opt: number | null;
      cost_run_to_failure: number;
    }>('age_replacement'),
  )('shape $shape, ratio $cost_ratio against R', (answer) => {
    const { shape, scale } = answer;
    const plan = ageReplacement({ shape, scale, plannedCost: 1, failureCost: answer.cost_ratio });
    expectWithin(plan.runToFailureCostRate, answer.cost_run_to_failure, 1e-9);
    if (answer.T_opt === null) {
      expect(plan).toMatchObject({ age: null, whyNone: 'does not wear out' });
    } else {
      expectWithin(plan.age, answer.T_opt, 1e-6);
      expectWithin(plan.costRate, answer.cost_at_T_opt!, 1e-9);
    }
  });

  // Barlow and Proschan; the first row is a textbook example (answer 493.0470 from memory).
  it.each(tableOf('age_replacement.csv'))(
    'shape $shape, $cost_unplanned to $cost_planned',
    (row) => {
      const plan = ageReplacement({
        shape: Number(row.shape),
        scale: Number(row.scale),
        plannedCost: Number(row.cost_planned),
        failureCost: Number(row.cost_unplanned),
      });
      expectWithin(plan.age, Number(row.optimal_T), 1e-7);
      expectWithin(plan.costRate, Number(row.cost_rate_at_T), 1e-7);
      expectWithin(plan.runToFailureCostRate, Number(row.run_to_failure_cost_rate), 1e-7);
    },
  );

  // Design figure of the belt's distance limit: shape 3.5, scale 95,000 mi; integrated in R.
  it('refuses costs and lives that are not above zero, by name', () => {
    const costs = { shape: 2, scale: 10, plannedCost: 1, failureCost: 5 };
    for (const name of Object.keys(costs))
      expect(() => ageReplacement({ ...costs, [name]: 0 })).toThrow(`${name} must be above zero`);
  });

  it('finds the belt rule near 50,000 mi at cost ratio 5', () => {
    const belt = (failureCost: number) =>
      ageReplacement({ shape: 3.5, scale: 95_000, plannedCost: 1, failureCost }).age;
    expect(Math.round(belt(5)!)).toBe(49_361);
    expect(Math.round(belt(10)!)).toBe(39_084);
  });
});

// Lu and Meeker, Technometrics 35 (1993): Alloy-A cracks reach 1.6 in on 12 of 21 paths.
it('threshold crossing of Alloy-A', () => {
  const rows = tableOf('degradation_alloy_a_fatigue.csv');
  const names = [...new Set(rows.map((row) => row.Path))];
  const crossings = names.map((name) => {
    const path = rows.filter((row) => row.Path === name);
    return firstCrossing(
      path.map((row) => Number(row.cycles)),
      path.map((row) => Number(row.inches)),
      1.6,
    );
  });
  expect(crossings).toHaveLength(21);
  expect(crossings.filter((crossing) => crossing !== null)).toHaveLength(12);
  expectWithin(crossings[0], 0.0875, 1e-6);
});

it('a path that starts on the limit crosses at once, whatever follows', () => {
  expect(firstCrossing([3], [5], 5)).toBe(3);
  expect(firstCrossing([3, 4], [5, 5], 5)).toBe(3);
  expect(firstCrossing([3, 4], [5, 9], 5)).toBe(3);
});

// By the definition: at the scale 1/e live on whatever the shape, at shape 1 lives are exponential.
it('the Weibull distribution by its definition', () => {
  expectWithin(weibull.survival(700, 2.5, 700), Math.exp(-1), 1e-14);
  expectWithin(weibull.survival(350, 1, 700), Math.exp(-0.5), 1e-14);
  expectWithin(weibull.survival(350, 2, 700), Math.exp(-0.25), 1e-14);
  expect(weibull.survival(0, 0.5, 700)).toBe(1);
  expect(weibull.survival(-1, 2, 700)).toBe(1);
  expectWithin(weibull.quantile(0.5, 1, 700), 700 * Math.LN2, 1e-14);
  expectWithin(weibull.survival(weibull.quantile(0.1, 2.5, 700), 2.5, 700), 0.9, 1e-14);
  expect(() => weibull.survival(1, 0, 1)).toThrow('shape must be above zero');
  expect(() => weibull.quantile(0.1, 1, 0)).toThrow('scale must be above zero');
  expect(() => weibull.meanLife(1, -1)).toThrow('scale must be above zero');
  expect(() => weibull.quantile(1.1, 1, 1)).toThrow('a probability lies in 0 to 1');
});
