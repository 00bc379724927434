import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import { withOpenSpell } from '@/lib/analysis/with-open-spell';
import { aUnit } from '../../support/a-unit';
import { asOf, history, orNull } from './arbitrary-histories';

const due = { bulletinId: 'b', number: 'SB-1', isDoNotDrive: true };
const openSpell = { why: 'Bulletin SB-1 says not to drive.', openedOn: asOf };

describe('an assessment once the spell that it demands is open', () => {
  it('has the spell as one reason more, and the first', () => {
    const input = aUnit({ asOf, bulletinsDue: [{ ...due, dueOn: null }] });
    const opened = withOpenSpell(assessUnit(input), openSpell);
    expect(opened).toEqual(assessUnit({ ...input, openSpell }));
    expect(opened.reasons.slice(0, 2).map(({ rule, on }) => [rule, on])).toEqual([
      ['open spell', asOf],
      ['do-not-drive bulletin', undefined],
    ]);
  });

  it('is what judging the whole unit gives, whatever its history', () => {
    const dueOn = orNull(fc.integer({ min: asOf - 100, max: asOf + 400 }));
    let stopped = 0;
    fc.assert(
      fc.property(history, dueOn, fc.boolean(), (any, on, isStoppedByBulletin) => {
        const { readings, fitments, closing } = any;
        const bulletinsDue = isStoppedByBulletin ? [{ ...due, dueOn: on }] : [];
        const input = aUnit({ readings, fitments, ...closing, bulletinsDue });
        const assessment = assessUnit(input);
        if (assessment.mark !== 'Out of service') return;
        stopped += 1;
        expect(withOpenSpell(assessment, openSpell)).toEqual(assessUnit({ ...input, openSpell }));
      }),
      { numRuns: 200, seed: 20251125 },
    );
    // Otherwise nothing was compared.
    expect(stopped).toBeGreaterThan(80);
  });
});
