import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { marks } from '@/lib/analysis/assessment';
import {
  bodies,
  bulletinFilters,
  findText,
  firstYardQuery,
  readYardQuery,
  standings,
  writeYardQuery,
  type YardQuery,
  yardSorts,
} from '@/lib/intake/yard-query';

const read = (address: string) => readYardQuery(new URLSearchParams(address));
const maybe = <Value>(values: readonly Value[]) => fc.option(fc.constantFrom(...values));
const month = maybe(['2016-01', '2019-12', '2024-08']);

const query: fc.Arbitrary<YardQuery> = fc
  .record({
    mark: maybe(marks),
    find: fc.constantFrom('', '04', 'AB-1'),
    shed: maybe(['river', 'quay']),
    make: maybe(['Corvane']),
    model: maybe(['P1', 'P & 2=3']),
    body: maybe(bodies),
    builtFrom: month,
    builtTo: month,
    bulletin: maybe(bulletinFilters),
    range: maybe(['Harrow 2-b', 'model not known-a']),
    standing: fc.constantFrom(...standings),
    sort: fc.constantFrom(...yardSorts),
    isDescending: fc.boolean(),
  })
  .map((one) => (one.standing === 'in use' ? one : { ...one, mark: null }));

describe("the yard's address", () => {
  it('opens on Book in, earliest edge first', () => {
    expect(read('')).toEqual(firstYardQuery);
    expect(writeYardQuery(firstYardQuery).toString()).toBe('');
  });

  it('holds every query whole', () => {
    fc.assert(
      fc.property(query, (one) => {
        expect(read(writeYardQuery(one).toString())).toEqual(one);
      }),
    );
  });

  it('is read whatever stands in it', () => {
    fc.assert(fc.property(fc.string(), (text) => void read(text)));
    expect(read('mark=Cleared&body=barge&from=2019-13&sort=-price')).toEqual({
      ...firstYardQuery,
      isDescending: true,
    });
  });

  it('takes a unit as people key it', () => {
    expect(findText(' ab-1%_ ')).toBe('AB-1');
    expect(read('find=%2004')).toMatchObject({ find: '04' });
  });
});
