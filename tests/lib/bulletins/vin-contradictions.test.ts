import { describe, expect, it } from 'vitest';
import { decodeVin } from '@/lib/bulletins/decode-vin';
import { vinContradictions } from '@/lib/bulletins/vin-contradictions';
import { built } from './arbitrary-bulletins';

// Invented number of model year 2026.
const vin = decodeVin('ZZ9FA1B22TR000123', 3200);

describe('what the VIN and the label say against each other', () => {
  it('lists nothing where they agree, or where there is no label', () => {
    expect(vinContradictions(vin, { modelYear: 2026, built: built('2025-08') })).toEqual([]);
    expect(vinContradictions(vin, { modelYear: null, built: null })).toEqual([]);
  });

  it('lists a model year that differs', () => {
    expect(vinContradictions(vin, { modelYear: 2025, built: null })).toEqual([
      'the VIN says model year 2026, the label 2025',
    ]);
  });

  it.each([
    ['2024-12', 1],
    ['2025-01', 0],
    ['2027-12', 0],
    ['2028-01', 1],
  ])('built %s: %i contradictions', (iso, count) => {
    expect(vinContradictions(vin, { modelYear: null, built: built(iso) })).toHaveLength(count);
  });

  it('lists a position 10 that codes no year', () => {
    const coded = decodeVin('ZZ9FA1B22UR000123', 3200);
    expect(vinContradictions(coded, { modelYear: 2026, built: null })).toHaveLength(1);
  });
});
