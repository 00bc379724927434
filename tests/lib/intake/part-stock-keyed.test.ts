import { describe, expect, it } from 'vitest';
import { partStockKeyed } from '@/lib/intake/part-stock-keyed';

const keyed = {
  partNumber: ' VP-210 ',
  revision: 'C',
  part: 'pump',
  description: 'Pump kit',
  supersededBy: '',
  inStock: '3',
  leadTimeDays: '21',
};

describe('a part revision as keyed', () => {
  it('is read into whole pieces and days', () => {
    expect(partStockKeyed(keyed)).toEqual({
      ok: true,
      value: {
        partNumber: 'VP-210',
        revision: 'C',
        part: 'pump',
        description: 'Pump kit',
        supersededBy: null,
        inStock: 3,
        leadTimeDays: 21,
        seen: null,
      },
    });
    const back = partStockKeyed({ ...keyed, seenInStock: '2', seenLeadTimeDays: '21' });
    expect(back.ok && back.value.seen).toEqual({ inStock: 2, leadTimeDays: 21 });
  });

  it.each([
    ['inStock', '1.5'],
    ['inStock', '-1'],
    ['inStock', ''],
    ['inStock', '100000'],
    ['leadTimeDays', '731'],
    ['leadTimeDays', '٣'],
    ['partNumber', ' '],
    ['revision', 'x'.repeat(21)],
    ['description', 'a\u0000b'],
    ['part', 'wheel'],
  ])('%s %j is refused at its field', (field, value) => {
    const read = partStockKeyed({ ...keyed, [field]: value });
    expect(read.ok ? [] : read.error.map((problem) => problem.field)).toEqual([field]);
  });
});
