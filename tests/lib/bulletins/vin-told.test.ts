import { describe, expect, it } from 'vitest';
import { factEntry } from '@/lib/bulletins/fact-entry';
import { vinTold } from '@/lib/bulletins/vin-told';
import { built, nothingKnown } from './arbitrary-bulletins';

const facts = { ...nothingKnown, gvwrKg: 3200 };

describe('what is told of a VIN', () => {
  it('keeps what the number implies apart from the label, and tells where they disagree', () => {
    const told = vinTold({
      ...facts,
      vin: 'ZZ9FA1B22TR000123',
      modelYear: 2025,
      built: built('2025-08'),
    });
    expect(told).toMatchObject({ isRefused: false, problems: [], fixes: [] });
    expect(told?.implied).toContainEqual({ term: 'Model year', value: '2026' });
    expect(told?.contradictions).toEqual(['the VIN says model year 2026, the label 2025']);
  });

  it('refuses or warns by the market, with the same fixes', () => {
    const vin = 'ZZ9FA1B27TR000123';
    const refused = vinTold({ ...facts, vin });
    const warned = vinTold({ ...facts, vin, isCheckDigitRequired: false });
    expect(refused).toMatchObject({ isRefused: true, implied: [] });
    expect(warned?.isRefused).toBe(false);
    expect(warned?.problems).toHaveLength(1);
    expect(warned?.implied).toContainEqual({ term: 'Check digit', value: '7, wrong' });
    expect(refused?.fixes.map((fix) => fix.vin)).toContain('ZZ9FA1B22TR000123');
    expect(warned?.fixes).toEqual(refused?.fixes);
  });

  it('names the character that no VIN holds, and offers no fix of the check digit for it', () => {
    const told = vinTold({ ...facts, vin: 'ZZ9FA1B22TR0O0123' });
    expect(told?.problems[0]?.message).toContain('O in position 13');
    expect(told?.fixes).toEqual([]);
  });

  it('tells nothing of a unit without one', () => {
    expect(vinTold(facts)).toBeNull();
  });
});

describe('where a missing fact is entered', () => {
  it.each([
    ['month of build', { by: 'unit facts', field: 'built' }],
    ['plant', { by: 'unit facts', field: 'vin' }],
    ['pump revision', { by: 'unit facts', field: 'revision:pump' }],
    ['check valve date code', { by: 'unit facts', field: 'dateCode:check valve' }],
    ['week of the pump date code', { by: 'unit facts', field: 'dateCode:pump' }],
    ['line', { by: 'reading' }],
    ['line revision', { by: 'unit facts', field: 'revision:line' }],
    ['idle vacuum', { by: 'reading' }],
    ['odometer', { by: 'reading' }],
  ])('%s', (fact, entry) => {
    expect(factEntry(fact)).toEqual(entry);
  });
});
