import { expect, it } from 'vitest';
import { scoreCauses } from '@/lib/analysis/backtest/score-causes';

const times = <Value>(count: number, value: Value) => Array<Value>(count).fill(value);

// Brodersen and others (2010): the mean of the shares told right, class by class.
it('is the mean of the recalls, however many visits each cause has', () => {
  const { recall, balancedAccuracy } = scoreCauses([
    ...times(90, { cause: 'pump', said: 'pump' } as const),
    ...times(10, { cause: 'pump', said: 'cannot tell' } as const),
    ...times(1, { cause: 'leak', said: 'leak' } as const),
    ...times(3, { cause: 'leak', said: 'pump' } as const),
  ]);
  expect(recall).toEqual({
    pump: 0.9,
    leak: 0.25,
    'check valve': null,
    'restricted line': null,
    'slipping belt': null,
    'none shown': null,
  });
  expect(balancedAccuracy).toBeCloseTo((0.9 + 0.25) / 2, 12);
});

it('is null without a visit', () => {
  expect(scoreCauses([]).balancedAccuracy).toBeNull();
});
