import { describe, expect, it } from 'vitest';
import {
  fittedInWords,
  partsLacking,
  requiredPartsInWords,
  requiredPartsOf,
} from '@/lib/bulletins/required-parts';

const pumpAndValve = [
  { part: 'pump', revisions: ['C', 'D'] },
  { part: 'check valve', revisions: [] },
] as const;

describe('parts and revisions of a bulletin', () => {
  it.each([
    ['pump C or D; check valve', pumpAndValve],
    [' Pump  C, D ;Check Valve; ', pumpAndValve],
    ['check valve 2B', [{ part: 'check valve', revisions: ['2B'] }]],
    ['', []],
    [' ; ', []],
  ])('reads %j', (text, value) => {
    expect(requiredPartsOf(text)).toEqual({ ok: true, value });
  });

  it('reads back what it writes', () => {
    const text = requiredPartsInWords(pumpAndValve);
    expect(text).toBe('pump C or D; check valve');
    expect(requiredPartsOf(text)).toEqual({ ok: true, value: pumpAndValve });
  });

  it.each(['gearbox', 'pumpC', 'C', 'pump C,', 'pump A; pump B', `pump ${'X'.repeat(21)}`])(
    'refuses %j',
    (text) => {
      expect(requiredPartsOf(text).ok).toBe(false);
    },
  );

  it('lacks a part in no revision that will do, and an unknown one', () => {
    const lacking = (revision: string | null) =>
      partsLacking(pumpAndValve, [{ part: 'pump', revision }]).map(({ part }) => part);
    expect([lacking('c '), lacking('D'), lacking('B'), lacking(null)]).toEqual([
      [],
      [],
      ['pump'],
      ['pump'],
    ]);
    expect(partsLacking(pumpAndValve, [])).toHaveLength(1);
    expect(partsLacking([], [])).toEqual([]);
  });

  it('names the revisions fitted, with their parts where there are several', () => {
    const fitted = [
      { part: 'pump', revision: 'C' },
      { part: 'check valve', revision: null },
      { part: 'belt', revision: 'Z' },
    ] as const;
    expect(fittedInWords(pumpAndValve, fitted)).toBe('pump C');
    expect(fittedInWords([pumpAndValve[0]], fitted)).toBe('C');
    expect(fittedInWords([], fitted)).toBeNull();
  });
});
