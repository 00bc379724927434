import { expect, it } from 'vitest';
import { alikeChanges } from '@/app/effectivity/new/alike-changes';
import type { MarkChange } from '@/db/reads/marks-under-limits';

const change = (unitId: string, from: MarkChange['from']): MarkChange => ({
  ...{ unitId, from, to: 'Book in', why: 'Bulletin SB-1 is due.' },
});

it('tells a change of very many units once, with their count and the first of them', () => {
  const many = Array.from({ length: 50_000 }, (_, index) => change(String(index), 'Holding'));
  const [ofMany, ofOne, ...others] = alikeChanges([...many, change('last', 'Drifting')]);
  expect(others).toEqual([]);
  expect(ofMany).toMatchObject({ from: 'Holding', to: 'Book in', units: 50_000 });
  expect(ofMany?.first).toEqual(many.slice(0, 60).map(({ unitId }) => unitId));
  expect(ofOne).toMatchObject({ from: 'Drifting', units: 1, first: ['last'] });
});
