import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import { diagnose } from '@/lib/analysis/diagnose';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import type { Reading } from '@/lib/analysis/reading';
import { toKilopascals } from '@/lib/measure';
import { aUnit, fitted, psi, readingOn } from '../../support/a-unit';

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

describe('what a diagnosis is told of a visit', () => {
  const newest = {
    ...{ idle: psi(11.5), lowest: psi(9), raised: psi(12), recovery: 14 },
    ...{ holdLoss: psi(0.9), holdTime: 120, line: 'film' as const },
  };
  const prior = { ...defaultFleetPrior, noise: 0.4 };
  // The start reads 13 psi at idle, 10.5 psi lowest, and recovers in 10 s.
  const told = {
    ...{ idleDrop: psi(13) - psi(11.5), lowestDrop: psi(10.5) - psi(9) },
    ...{ recovery: 14, recoveryBaseline: 10, holdLoss: psi(0.9), holdTime: 120 },
    ...{ idle: psi(11.5), raisedDifference: psi(12) - psi(11.5), line: 'film' as const },
    noise: psi(0.4),
  };

  it('is its falls from the start and what it measured, in the units of the reader', () => {
    const readings = [...start, visit(10, newest)];
    expect(causeOf({ readings, prior })).toEqual(diagnose(told));
    expect(causeOf({ readings, prior, pressureUnit: 'inHg' })).toEqual(
      diagnose({ ...told, pressureUnit: 'inHg' }),
    );
    expect(causeOf({ readings, prior, pressureUnit: 'inHg' })).not.toEqual(diagnose(told));
  });

  it('is nothing of what was not measured', () => {
    const none = { raised: null, holdLoss: null, holdTime: null, recovery: null };
    expect(causeOf({ readings: [...start, visit(10, { ...newest, ...none })], prior })).toEqual(
      diagnose({ ...told, ...none, raisedDifference: null }),
    );
    const nothing = {
      ...{ idleDrop: null, lowestDrop: null, recovery: null, recoveryBaseline: null },
      ...{ holdLoss: null, holdTime: null, idle: null, raisedDifference: null },
    };
    expect(causeOf({ readings: [], prior })).toEqual(
      diagnose({ ...nothing, line: 'not seen', noise: psi(0.4) }),
    );
  });
});
