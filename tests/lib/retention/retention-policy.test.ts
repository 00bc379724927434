import { describe, expect, it } from 'vitest';
import { defaultRetention, retentionKeyed, retentionWords } from '@/lib/retention/retention-policy';

describe('the retention policy', () => {
  it('keeps by default what 49 CFR 396.3(c) asks: six months after leaving, and more before', () => {
    expect(defaultRetention.monthsAfterLeaving).toBe(6);
    expect(retentionWords(defaultRetention)).toEqual([
      'Months after a unit has left, all of it: 6',
      'Years of readings: as long as it is in the fleet',
      'Years of verdicts that were replaced: as long as it is in the fleet',
      'Years of what ledger entries say: as long as it is in the fleet',
    ]);
  });

  it('takes whole periods, and empty ones for as long as the unit is in the fleet', () => {
    expect(retentionKeyed({ monthsAfterLeaving: '12', yearsOfReadings: ' 10 ' })).toEqual({
      ok: true,
      value: { ...defaultRetention, monthsAfterLeaving: 12, yearsOfReadings: 10 },
    });
  });

  it.each([
    { monthsAfterLeaving: '3' },
    { monthsAfterLeaving: '' },
    { monthsAfterLeaving: '6', yearsOfReadings: '0' },
    { monthsAfterLeaving: '6', yearsOfVerdicts: '1.5' },
    { monthsAfterLeaving: '6', yearsOfPayloads: '1e3' },
    { monthsAfterLeaving: '101' },
  ])('refuses less than the rule asks, and what is no period: %o', (keyed) => {
    const field = Object.keys(keyed).at(-1);
    expect(retentionKeyed(keyed)).toMatchObject({ ok: false, error: [{ field }] });
  });
});
