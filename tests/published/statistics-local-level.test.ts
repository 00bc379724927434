import { describe, expect, it } from 'vitest';
import { localLevelDrift } from '@/lib/statistics';
import { expectWithin, seriesOf } from './figures';

// Figures by reference/local_level_drift.py, which conditions the joint normal distribution of all
// observations directly, without a filter.
describe('local level with drift against direct conditioning', () => {
  const { t, y } = seriesOf('Nile');
  const nile = { noiseVariance: 15_099, levelVariance: 1469.1, driftMean: 0 };

  // Durbin and Koopman (2012), section 2.10, give these variances as the most likely and -632.54
  // (from memory).
  it('Nile, a level alone', () => {
    const fit = localLevelDrift(t, y, { ...nile, driftVariance: 0 });
    expectWithin(fit.logLikelihood, -632.5456251156746, 1e-12);
    expectWithin(fit.level, 798.370292608363, 1e-12);
    expect(fit.drift).toBe(0);
    for (const factor of [0.9, 1.1]) {
      for (const name of ['noiseVariance', 'levelVariance'] as const) {
        const other = { ...nile, driftVariance: 0, [name]: factor * nile[name] };
        expect(localLevelDrift(t, y, other).logLikelihood!).toBeLessThan(fit.logLikelihood!);
      }
    }
  });

  it('Nile, with a drift', () => {
    const fit = localLevelDrift(t, y, { ...nile, driftVariance: 25 });
    expectWithin(fit.level, 792.7233151432604, 1e-12);
    expectWithin(fit.drift, -2.0574527867488026, 1e-11);
    expectWithin(fit.logLikelihood, -632.8023188782084, 1e-12);
    expect(fit.innovations).toHaveLength(t.length - 1);
  });

  // The level's variance grows by gap² times the drift's, from 1 to 3; the forecast's is one more.
  it('an innovation is the miss in standard deviations of the forecast', () => {
    const model = { noiseVariance: 1, levelVariance: 0, driftMean: 0, driftVariance: 2 };
    expect(localLevelDrift([0, 1], [10, 8], model).innovations).toEqual([-2 / Math.sqrt(4)]);
  });

  it('uneven times and a repeat', () => {
    const fit = localLevelDrift(
      [0, 0.21, 0.5, 0.5, 0.77, 1.3, 1.52],
      [13.1, 12.9, 12.4, 12.6, 12.5, 12.1, 11.6],
      { noiseVariance: 0.09, levelVariance: 0.04, driftMean: -0.3, driftVariance: 0.25 },
    );
    expectWithin(fit.level, 11.802250591540886, 1e-12);
    expectWithin(fit.drift, -0.73917721706544, 1e-12);
    expectWithin(fit.logLikelihood, -1.4649625958575596, 1e-12);
  });
});
