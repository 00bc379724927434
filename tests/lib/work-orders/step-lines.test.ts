import { describe, expect, it } from 'vitest';
import { linesOfSteps, stepsOfLines } from '@/lib/work-orders/step-lines';

describe('steps as lines', () => {
  it('hold what to do, a value and a caution, and come back as they were', () => {
    const lines = 'Fit the bolts | 18 lb-ft | Hot\nTug the clip\n\nStart |  | Clear of the fan ';
    const steps = stepsOfLines(lines);
    expect(steps).toEqual([
      { text: 'Fit the bolts', value: '18 lb-ft', caution: 'Hot' },
      { text: 'Tug the clip' },
      { text: 'Start', caution: 'Clear of the fan' },
    ]);
    expect(stepsOfLines(linesOfSteps(steps))).toEqual(steps);
    expect(stepsOfLines(' \n|x')).toEqual([]);
  });
});
