import { describe, expect, it } from 'vitest';
import { dayFromIso } from '@/lib/calendar';
import { unitFactsKeyed } from '@/lib/intake/unit-facts-keyed';

const asOf = dayFromIso('2026-05-04') ?? 0;
const keyed = (values: Record<string, string>) =>
  unitFactsKeyed((field) => values[field] ?? '', asOf);

describe('facts of a unit as keyed', () => {
  it('takes month and year as the label gives them (49 CFR 567), and no more', () => {
    const read = keyed({ built: '3/19', 'revision:pump': ' C ' });
    expect(read).toMatchObject({
      ok: true,
      value: {
        built: { precision: 'month', from: dayFromIso('2019-03-01'), to: dayFromIso('2019-03-31') },
        fitted: [{ part: 'pump', revision: 'C', dateCode: null }],
      },
    });
  });

  it('leaves out what is empty', () => {
    expect(keyed({})).toEqual({ ok: true, value: { fitted: [] } });
  });

  it('refuses a wrong check digit where it is required, and only there', () => {
    // Invented number; its check digit ought to be 2.
    const vin = 'ZZ9FA1B27TR000123';
    expect(keyed({ vin }).ok).toBe(false);
    expect(keyed({ vin, isCheckDigitRequired: 'yes' }).ok).toBe(false);
    expect(keyed({ vin, isCheckDigitRequired: 'no' })).toMatchObject({ value: { vin } });
    expect(keyed({ vin: 'zz9-fa1b22 tr000123' })).toMatchObject({
      value: { vin: 'ZZ9FA1B22TR000123' },
    });
  });

  it.each([
    ['vin', 'ZZ9FA1B22TR00012'],
    ['vin', 'ZZ9FA1B22TR00O123'],
    ['built', '13/19'],
    ['built', '3/4/19'],
    ['built', '2027-01'],
    ['modelYear', '20.5'],
    ['modelYear', '1979'],
    ['modelYear', '٢٠١٩'],
    ['make', 'A\u202EB'],
    ['engine', 'x'.repeat(61)],
    ['dateCode:pump', 'a\0'],
  ])('refuses %s %j in its field', (field, value) => {
    const read = keyed({ [field]: value });
    expect(read.ok ? [] : read.error.map((problem) => problem.field)).toContain(field);
  });
});
