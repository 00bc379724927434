import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import { defaultLimits } from '@/lib/analysis/limits';
import { rejudgeBulletins } from '@/lib/analysis/rejudge-bulletins';
import type { AssessUnitInput, BulletinDue } from '@/lib/analysis/unit-assessment';
import { aUnit, psi, quarterly, readingOn } from '../../support/a-unit';
import { asOf, history, orNull } from './arbitrary-histories';

const horizon = asOf + defaultLimits.horizonDays;
const aBulletin: fc.Arbitrary<BulletinDue> = fc.record({
  bulletinId: fc.constant('b'),
  number: fc.constantFrom('SB-1', 'SB-2', 'SB-3'),
  dueOn: orNull(fc.integer({ min: asOf - 100, max: asOf + 400 })),
  isDoNotDrive: fc.boolean(),
});
const bulletins = fc.array(aBulletin, { maxLength: 3 });
const standing = fc.record({
  openSpell: orNull(fc.constant({ why: 'Stopped by hand.', openedOn: asOf - 3 })),
  laidUpOn: fc.option(fc.constant(asOf - 1), { freq: 8 }),
});

const both = (input: Partial<AssessUnitInput>, before: BulletinDue[], after: BulletinDue[]) => {
  const assessment = assessUnit(aUnit({ ...input, bulletinsDue: before }));
  const whole = assessUnit(aUnit({ ...input, bulletinsDue: after }));
  return {
    whole,
    assessment,
    part: rejudgeBulletins({ assessment, bulletinsDue: after, horizon }),
  };
};

const due: BulletinDue = {
  ...{ bulletinId: 'b', number: 'SB-1' },
  ...{ dueOn: asOf + 30, isDoNotDrive: false },
};

describe('an assessment under other bulletins', () => {
  it('is what judging the whole unit gives, whatever its history', () => {
    fc.assert(
      fc.property(history, standing, bulletins, bulletins, (any, more, before, after) => {
        const { readings, fitments, closing } = any;
        const input = { readings, fitments, ...closing, ...more };
        const { whole, assessment, part } = both(input, before, after);
        if (part) expect({ ...assessment, ...part }).toEqual(whole);
        else expect(whole.mark).not.toBe(assessment.mark);
      }),
      { numRuns: 200, seed: 20251125 },
    );
  });

  it.each([
    ['comes in', [], [due], 'Book in'],
    ['is done', [due], [], 'Holding'],
    ['is far off', [], [{ ...due, dueOn: asOf + 4000 }], 'Holding'],
    ['stops it', [], [{ ...due, isDoNotDrive: true }], 'Out of service'],
  ])('without following the readings again where one %s', (_, before, after, mark) => {
    const readings = quarterly(asOf - 3, [13, 13, 13, 13, 13]);
    expect(both({ readings }, before, after).part).toMatchObject({ mark });
  });

  it('asks for the whole where the next reading falls on another day', () => {
    const drifting = { readings: [readingOn(asOf - 3, { line: 'film' })] };
    expect(both(drifting, [], []).assessment.mark).toBe('Drifting');
    expect(both(drifting, [], [due]).part).toBeNull();
    const sound = { readings: [readingOn(asOf - 3, { idle: psi(13) })] };
    expect(both(sound, [{ ...due, isDoNotDrive: true }], []).part).toBeNull();
  });
});
