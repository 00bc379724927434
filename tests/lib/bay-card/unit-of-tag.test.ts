import { expect, it } from 'vitest';
import { tagAddress, unitOfTag } from '@/lib/bay-card/unit-of-tag';

it('reads back the unit of every address that a tag carries', () => {
  for (const id of ['0417', 'T-12', 'A']) {
    expect(unitOfTag(tagAddress('http://localhost:3000', id))).toBe(id);
  }
  expect(unitOfTag('https://fleet.example/bay?from=tag&unit=0417')).toBe('0417');
});

it('takes the bare number of a tag made by hand', () => {
  expect(unitOfTag(' t-12 ')).toBe('T-12');
});

it('names no unit for what is no tag of a unit', () => {
  const others = [
    '',
    'https://fleet.example/yard?unit=1',
    'http://x/bay?unit=%E0%A4%A',
    'a b',
    '%',
  ];
  for (const text of [...others, 'http://x/bay?unit=', 'x'.repeat(17), '<b>']) {
    expect(unitOfTag(text)).toBeNull();
  }
});
