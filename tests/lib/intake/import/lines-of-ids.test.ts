import fc from 'fast-check';
import { expect, it } from 'vitest';
import { LinesOfIds } from '@/lib/intake/import/lines-of-ids';

const id = (hex: string) => hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-');
/** Few different digits in few places: many are alike in part, and some altogether. */
const alikeId = fc
  .tuple(fc.constantFrom('00', '01', 'ff'), fc.constantFrom('00', '80'), fc.constantFrom('0', 'a'))
  .map(([start, middle, end]) => id(`${start}${'0'.repeat(14)}${middle}${'0'.repeat(13)}${end}`));
const anyId = fc.oneof(alikeId, fc.uuid());

it('says on which line an id stood first, as a map would', () => {
  fc.assert(
    fc.property(fc.array(anyId, { maxLength: 60 }), (ids) => {
      const lines = new LinesOfIds();
      const first = new Map<string, number>();
      ids.forEach((one, k) => {
        expect(lines.before(one, k + 1)).toBe(first.get(one));
        if (!first.has(one)) first.set(one, k + 1);
      });
    }),
  );
});

it('keeps every id while its table grows', () => {
  const lines = new LinesOfIds();
  const ids = Array.from({ length: 5_000 }, (_, k) => id(k.toString(16).padStart(32, '0')));
  ids.forEach((one, k) => {
    expect(lines.before(one, k + 1)).toBeUndefined();
  });
  expect(ids.map((one) => lines.before(one, 9_999))).toEqual(ids.map((_, k) => k + 1));
});
