import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import { markUnderBulletins } from '@/lib/analysis/mark-under-bulletins';
import type { BulletinDue } from '@/lib/analysis/unit-assessment';
import { aUnit, psi, readingOn } from '../../support/a-unit';

const asOf = 20_000;
const replaced: BulletinDue = {
  bulletinId: 'earlier',
  number: 'SB-1',
  dueOn: asOf + 20,
  isDoNotDrive: false,
};
const other: BulletinDue = { ...replaced, bulletinId: 'other', number: 'SB-2', dueOn: asOf + 5 };

const histories = {
  'never read': [],
  holding: [readingOn(asOf - 30), readingOn(asOf - 3)],
  'below the stop': [readingOn(asOf - 3, { idle: psi(5) })],
};
const dueBefore = { nothing: [], 'the earlier issue': [replaced], both: [other, replaced] };
const entered: readonly (BulletinDue | null)[] = [
  null,
  ...[null, asOf + 30, asOf + 4000].flatMap((dueOn) =>
    [true, false].map((isDoNotDrive) => ({
      bulletinId: 'new',
      number: 'SB-1',
      dueOn,
      isDoNotDrive,
    })),
  ),
];

const cases = Object.keys(histories).flatMap((history) =>
  Object.keys(dueBefore).flatMap((before) => entered.map((due) => ({ history, before, due }))),
) as {
  history: keyof typeof histories;
  before: keyof typeof dueBefore;
  due: BulletinDue | null;
}[];

describe('the mark of a unit under another bulletin', () => {
  // Against the whole analysis, run again with the bulletins that would be due.
  it.each(cases)('$history, due before: $before, then $due', ({ history, before, due }) => {
    const input = aUnit({ readings: histories[history], bulletinsDue: dueBefore[before] });
    const { reasons } = assessUnit(input);
    const kept = dueBefore[before].filter(({ number }) => number !== replaced.number);
    const again = assessUnit({ ...input, bulletinsDue: due ? [...kept, due] : kept });
    const horizon = input.asOf + input.limits.horizonDays;
    const { mark, why } = markUnderBulletins({ reasons, without: 'SB-1', due, horizon });
    expect(mark).toBe(again.mark);
    if (mark !== assessUnit(input).mark) expect(why).toBe(again.reasons[0]?.text);
  });
});

it('a reason that only reads like the number of a bulletin stays', () => {
  const input = aUnit({
    openSpell: { openedOn: asOf, why: 'SB-1' },
    bulletinsDue: [{ ...replaced, isDoNotDrive: true }],
  });
  const { reasons } = assessUnit(input);
  expect(reasons.map(({ rule }) => rule)).toEqual([
    'open spell',
    'do-not-drive bulletin',
    'bulletin due',
  ]);
  const without = { reasons, without: 'SB-1', due: null, horizon: asOf + 91 };
  expect(markUnderBulletins(without).why).toContain('Stood down');
  const [, ...ofBulletin] = reasons;
  expect(markUnderBulletins({ ...without, reasons: ofBulletin }).mark).toBe('Holding');
});
