import { describe, expect, it } from 'vitest';
import { defaultLimits } from '@/lib/analysis/limits';
import { limitFigure, limitRows } from '@/lib/intake/limit-rows';
import { changedLimits, limitValues } from '@/lib/intake/limit-values';
import { distanceUnits, pressureUnits } from '@/lib/measure';

const { version: _, ...stored } = defaultLimits;
const units = { pressure: 'psi', distance: 'mi' } as const;
const shown = (change: Record<string, string> = {}, shownIn = units as LimitUnitsOf) => ({
  ...Object.fromEntries(
    limitRows.map(({ name, quantity }) => [name, limitFigure(stored[name], quantity, shownIn)]),
  ),
  ...change,
});
type LimitUnitsOf = Parameters<typeof limitFigure>[2];

describe('limits as keyed', () => {
  it('lists every limit once', () => {
    expect(limitRows.map(({ name }) => name).sort()).toEqual(Object.keys(stored).sort());
  });

  it.each(
    pressureUnits.flatMap((pressure) => distanceUnits.map((distance) => ({ pressure, distance }))),
  )('moves none by showing it in $pressure and $distance', (shownIn) => {
    const read = limitValues(shown({}, shownIn), stored, shownIn);
    expect(read).toEqual({ ok: true, value: stored });
  });

  it('takes what is keyed in the unit of whoever keys it', () => {
    const read = limitValues(
      shown({ idleCautionSle: '10.2', beltDistance: '60000' }),
      stored,
      units,
    );
    if (!read.ok) throw new Error('refused');
    // NIST SP 811 factors: 10.2 psi, 60,000 mi.
    expect(read.value.idleCautionSle).toBeCloseTo(70.3265, 3);
    expect(read.value.beltDistance).toBeCloseTo(96_560.64, 2);
    expect(changedLimits(stored, read.value)).toEqual(['idleCautionSle', 'beltDistance']);
  });

  it.each([
    ['idleCautionSle', ''],
    ['idleCautionSle', '10,2'],
    ['idleCautionSle', '-1'],
    ['idleCautionSle', '0'],
    ['idleCautionSle', '24.5'],
    ['recoveryStop', '1e9'],
    ['bookInScore', '1.5'],
    ['hold60Stop', '0.4'],
    ['idleStopAsRead', '11'],
    ['driftingScore', '0.2'],
  ])('refuses %s of “%s” and names a field', (name, text) => {
    const read = limitValues(shown({ [name]: text }), stored, units);
    if (read.ok) throw new Error('taken');
    expect(limitRows.map((row) => row.name as string)).toContain(read.error[0]?.field);
    expect(read.error[0]?.mend).toBeTruthy();
  });
});
