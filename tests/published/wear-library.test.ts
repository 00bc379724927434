import { describe, expect, it } from 'vitest';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { assessWear } from '@/lib/analysis/wear';
import {
  belowLimit,
  crossedBy,
  crossingQuantile,
  daysPerYear,
} from '@/lib/analysis/wear/below-limit';
import { takeVisit } from '@/lib/analysis/wear/take-visit';
import { curveWeights, prepare, WearBelief } from '@/lib/analysis/wear/wear-belief';
import { levelOf, posteriorOf } from '@/lib/analysis/wear/wear-posterior';
import { toKilopascals } from '@/lib/measure';
import reference from './figures/wear_library.json';

// Reference: a separate implementation of the same method in numpy 2.4.6 and scipy 1.17.1; it defines
// the method, it does not prove it. Its fleet fixture was learnt from 16 cases of which the file keeps
// 11, so of that fixture only the curve weights can be checked.
const digits = 8;
const limit = 10;
const ready = prepare(defaultFleetPrior);

describe('the wear library against its reference', () => {
  it('starts from the same weights', () => {
    reference.header.prior_weights.forEach((weight, curve) => {
      expect(Math.abs(ready.weights[curve]! - weight)).toBeLessThan(1e-15);
    });
  });

  it('builds the same weights from the factors of a learnt fleet', () => {
    const { onset, bend, step_share, step_size, weights } = reference.fleet_fixture;
    const prior = { ...defaultFleetPrior, onset, bend, stepShare: step_share, stepSize: step_size };
    curveWeights(prior).forEach((weight, curve) => {
      expect(Math.abs(weight - weights[curve]!)).toBeLessThan(1e-12);
    });
  });

  it.each(reference.cases.map((fixture, number) => ({ ...fixture, number })))(
    'case $number: $id',
    ({ t_years, y_sle, steps, log_likelihood }) => {
      let before = new WearBelief();
      let after = new WearBelief();
      after.start(defaultFleetPrior);
      const surprise = { z: 0, readingInError: 0, logLikelihood: 0 };
      let logLikelihood = 0;
      let lastYear: number | null = null;
      steps.forEach((expected, k) => {
        [before, after] = [after, before];
        const years = t_years[k]!;
        takeVisit(ready, before, after, years, y_sle[k]!, surprise);
        logLikelihood += surprise.logLikelihood;
        expect(surprise.z).toBeCloseTo(expected.z, digits);
        expect(surprise.readingInError).toBeCloseTo(expected.error_probability, digits);
        expect(Math.abs(surprise.z) <= 3).toBe(expected.accepted);
        const posterior = posteriorOf(ready, expected.accepted ? after : before, years);
        expect(levelOf(posterior, 0).mean).toBeCloseTo(expected.level_now, digits);
        const within1Year = belowLimit(posterior, limit, 365);
        expect(belowLimit(posterior, limit, 90)).toBeCloseTo(expected.F90, digits);
        expect(belowLimit(posterior, limit, 180)).toBeCloseTo(expected.F180, digits);
        expect(within1Year).toBeCloseTo(expected.F365, digits);
        expect(belowLimit(posterior, limit, 730)).toBeCloseTo(expected.F730, digits);
        expect(within1Year ** 0.7 * (lastYear ?? within1Year) ** 0.3).toBeCloseTo(
          expected.alarm_score,
          digits,
        );
        lastYear = within1Year;
        const [crossed] = crossedBy(posterior, [limit]);
        for (const [probability, years] of [
          [0.1, expected.q10],
          [0.5, expected.q50],
          [0.9, expected.q90],
        ] as const) {
          const days = crossingQuantile(crossed!, probability);
          if (years === null) expect(days).toBeNull();
          else expect(days! / daysPerYear).toBeCloseTo(years, digits);
        }
      });
      expect(logLikelihood).toBeCloseTo(log_likelihood, digits);
    },
  );

  it.each(reference.cases.filter(({ t_years }) => t_years[0] === 0))(
    'errors in hindsight and score: $id',
    ({ t_years, y_sle, error_probability_final, steps }) => {
      const outcome = assessWear(
        t_years.map((years, k) => ({
          day: years * daysPerYear,
          idleSle: toKilopascals(y_sle[k]!, 'psi'),
        })),
        defaultFleetPrior,
      );
      outcome.hindsight().forEach((error, k) => {
        expect(error).toBeCloseTo(error_probability_final[k]!, digits);
      });
      expect(outcome.score).toBeCloseTo(steps.at(-1)!.alarm_score, digits);
      expect(outcome.unconfirmed).toBe(!steps.at(-1)!.accepted);
    },
  );
});
