import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import type { Reading } from '@/lib/analysis/reading';
import { toKilopascals } from '@/lib/measure';
import { aUnit, fitted, readingOn } from '../../support/a-unit';

const asOf = 20_000;
const visit = (ago: number, change: Partial<Reading> = {}) =>
  readingOn(asOf - ago, { recovery: 10, holdLoss: 0, holdTime: 60, ...change });
const start = [visit(460), visit(370), visit(280)];
const slow = (recovery: number) => ({ lowest: toKilopascals(9.5, 'psi'), recovery });
const causeOf = (change: Parameters<typeof aUnit>[0]) =>
  assessUnit(aUnit({ asOf, ...change })).diagnosis;

describe('the cause by the newest visit and the one before', () => {
  const newest = visit(10, slow(20));
  const alone = causeOf({ readings: [...start, newest] });
  const both = [...start, visit(100, slow(19)), newest];

  it('takes the visit before into account', () => {
    expect(causeOf({ readings: both })).not.toEqual(alone);
  });

  it('leaves it out where a belt was fitted since: what it showed may be mended', () => {
    expect(causeOf({ readings: both, fitments: [fitted('belt', asOf - 50)] })).toEqual(alone);
  });

  it('leaves it out where a vacuum order was closed since', () => {
    expect(causeOf({ readings: both, vacuumOrderClosedOn: asOf - 50 })).toEqual(alone);
  });

  it('leaves out a visit that the baseline rests on', () => {
    const third = (change: Partial<Reading>) =>
      causeOf({ readings: [...start.slice(1), visit(100, change), newest] });
    expect(third(slow(19))).toEqual(third({}));
  });
});
