import { describe, expect, it } from 'vitest';
import { buildRangeWords } from '@/lib/bulletins/build-range-words';
import { dayFromIso } from '@/lib/calendar';

const words = (from: string | null, to: string | null, isDateOpen = false) =>
  buildRangeWords({
    from: from && dayFromIso(from),
    to: to && dayFromIso(to),
    isDateOpen,
    attributes: [],
  } as Parameters<typeof buildRangeWords>[0]);

describe('the stretch of a build range in words', () => {
  it.each([
    ['2019-03-01', '2019-05-14', '2019-03 to 2019-05-14'],
    ['2019-05-15', '2020-02-29', '2019-05-15 to 2020-02'],
    ['2019-03-01', '2019-03-31', '2019-03'],
    ['2019-03-14', '2019-03-14', '2019-03-14'],
    ['2019-03-01', null, '2019-03 or later'],
    [null, '2019-02-28', '2019-02 or earlier'],
    [null, null, 'any build date'],
  ])('%s to %s reads %s', (from, to, told) => {
    expect(words(from, to)).toBe(told);
  });

  it('names no date that the record leaves open, and what else is asked', () => {
    const range = { from: null, to: null, isDateOpen: true, attributes: ['engine D4'] };
    expect(buildRangeWords(range)).toBe('build date not settled, engine D4');
  });
});
