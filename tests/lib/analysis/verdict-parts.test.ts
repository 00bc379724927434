import { describe, expect, it } from 'vitest';
import { type AssessUnitInput, assessUnit } from '@/lib/analysis/assess-unit';
import { defaultFleetPrior } from '@/lib/analysis/fleet-prior';
import { defaultLimits } from '@/lib/analysis/limits';
import { normalise, type SoundReading } from '@/lib/analysis/normalise';
import type { Reading } from '@/lib/analysis/reading';
import { rejudgeBulletins } from '@/lib/analysis/rejudge-bulletins';
import { reasonsOf, reasonText } from '@/lib/analysis/rules';
import { segmentWear, wearPointsOf } from '@/lib/analysis/segment-wear';
import type { BulletinDue } from '@/lib/analysis/unit-assessment';
import { visitsOf } from '@/lib/analysis/visits';
import { aUnit, fitted, psi, quarterly, readingOn } from '../../support/a-unit';

const asOf = 20_000;
const noOrders = () => {
  const { vacuumOrderClosedOn: _, ...unit } = aUnit();
  return unit;
};
const rulesOf = (input: Partial<AssessUnitInput>, unit: AssessUnitInput = aUnit()) =>
  assessUnit({ ...unit, ...input }).reasons.map(({ rule }) => rule as string);
const visited = (...changes: Partial<Reading>[]) =>
  changes.map((change, k) => readingOn(asOf - 5 - 30 * (changes.length - 1 - k), change));

describe('oil film', () => {
  const lines = (...seen: Reading['line'][]) => visited(...seen.map((line) => ({ line })));

  it.each<[Reading['line'][], string[]]>([
    [['film', 'film'], ['film twice']],
    [['film', 'not seen', 'film'], ['film twice']],
    [['film', 'film', 'dry'], ['film twice']],
    [['film', 'film', 'dry', 'dry'], []],
    [['dry', 'film'], ['film once']],
    [['film', 'dry'], ['film once']],
    [['film', 'dry', 'dry'], []],
    [['film', 'dry', 'film'], ['film once']],
  ])('of %j where no orders are kept: %j', (seen, expected) => {
    const film = rulesOf({ readings: lines(...seen) }, noOrders());
    expect(film.filter((rule) => rule.startsWith('film'))).toEqual(expected);
  });

  it('twice stands where orders are kept, until one is closed', () => {
    expect(rulesOf({ readings: lines('film', 'film', 'dry', 'dry') })).toContain('film twice');
  });
});

describe('holds and belts', () => {
  const caution = defaultLimits.hold60Caution;
  const blind = (share: number) => ({ holdTime: 30, holdLoss: share * caution });

  it('a hold under 45 s counts where it lost too much all the same', () => {
    expect(rulesOf({ readings: visited(blind(1.05)) })).toContain('hold loss over caution');
    expect(rulesOf({ readings: visited(blind(0.95)) })).not.toContain('hold loss over caution');
  });

  it('a hold under 45 s that lost little clears nothing', () => {
    const over = { holdTime: 60, holdLoss: 1.05 * caution };
    const tight = { holdTime: 60, holdLoss: 0.2 * caution };
    const rulesAfter = (...later: Partial<Reading>[]) =>
      rulesOf({ readings: visited(over, ...later) }, noOrders());
    expect(rulesAfter(blind(0.2), blind(0.2))).toContain('hold loss over caution');
    expect(rulesAfter(tight)).toContain('hold loss over caution');
    expect(rulesAfter(tight, tight)).not.toContain('hold loss over caution');
  });

  it('what was seen of a belt goes with it', () => {
    const readings = visited({ belt: 'off' }, { belt: 'not seen' });
    expect(rulesOf({ readings })).toContain('belt off or shredded');
    const fitments = [fitted('belt', asOf - 20)];
    expect(rulesOf({ readings, fitments })).not.toContain('belt off or shredded');
  });
});

describe('the wear score', () => {
  const readings = quarterly(asOf - 5, [13, 12.8, 12.3, 11.7, 11, 10.5]);

  it('has been answered once an order is closed or the unit released, until it is read again', () => {
    expect(rulesOf({ readings })).toContain('wear score');
    for (const closed of ['vacuumOrderClosedOn', 'releasedOn'] as const) {
      expect(rulesOf({ readings, [closed]: asOf - 6 })).toContain('wear score');
      expect(rulesOf({ readings, [closed]: asOf - 5 })).not.toContain('wear score');
      expect(rulesOf({ readings, [closed]: asOf - 2 })).not.toContain('wear score');
    }
  });

  it('is in the assessment from four visits on, and of the visit before from five', () => {
    const visits = (count: number) =>
      visitsOf(
        readings.slice(0, count).map((reading) => {
          const normalised = normalise(reading, 0);
          return (normalised as { reading: SoundReading }).reading;
        }),
      );
    const at = (count: number) => segmentWear(visits(count), defaultFleetPrior, defaultLimits);
    expect(at(3)).toMatchObject({ score: null, scoreBefore: null });
    expect(at(4).score).toBe(at(4).outcome.score);
    expect(at(4).scoreBefore).toBeNull();
    expect(at(5).scoreBefore).toBe(at(4).score);
    expect(at(6).scoreBefore).toBe(at(5).score);
  });

  it('rests on every reading of a day that has an idle', () => {
    const sound = visited({}, { idle: null }, {}).flatMap((reading) => {
      const normalised = normalise(reading, 0);
      return normalised.isSound ? [normalised.reading] : [];
    });
    const points = wearPointsOf([{ day: 7, readings: sound }]);
    expect(points).toHaveLength(sound.filter(({ idle }) => idle !== null).length);
    expect(points.map(({ day }) => day)).toEqual([7, 7]);
    expect(points[0]).toEqual({ day: 7, idleSle: psi(13), lowestSle: psi(10.5) });
  });
});

describe('while the newest reading is unconfirmed', () => {
  const own = { idle: psi(12) };
  const high = { idle: psi(13.7) };
  const sound = Array.from({ length: 5 }, () => own);

  it('what it would clear still stands', () => {
    const leaking = {
      ...own,
      holdTime: 60,
      holdLoss: 1.05 * defaultLimits.hold60Caution,
    };
    const rulesAfter = (last: Partial<Reading>) =>
      rulesOf({ readings: visited(...sound, leaking, own, last) }, noOrders());
    expect(rulesAfter(own)).not.toContain('hold loss over caution');
    expect(rulesAfter(high)).toEqual(
      expect.arrayContaining(['hold loss over caution', 'unconfirmed reading']),
    );
  });

  it('a worn belt is still worn', () => {
    const rulesAfter = (last: Partial<Reading>) =>
      rulesOf({ readings: visited(...sound, { ...own, belt: 'cracked' }, last) });
    expect(rulesAfter(own)).not.toContain('belt worn');
    expect(rulesAfter(high)).toEqual(expect.arrayContaining(['belt worn', 'unconfirmed reading']));
  });

  it('two below its own start are still two', () => {
    const low = { idle: psi(11.2) };
    const rulesAfter = (...last: Partial<Reading>[]) =>
      rulesOf({ readings: visited(...sound, low, low, own, ...last) });
    expect(rulesAfter()).toContain('two below baseline');
    expect(rulesAfter(own)).not.toContain('two below baseline');
    expect(rulesAfter(high)).toEqual(
      expect.arrayContaining(['two below baseline', 'unconfirmed reading']),
    );
  });

  it('a silence before it is still a silence', () => {
    const readings = (last: Partial<Reading>) => [
      ...visited(...sound).map((one) => readingOn(one.readOn - 120, own)),
      readingOn(asOf - 5, last),
    ];
    expect(rulesOf({ readings: readings(own) })).not.toContain('reading overdue');
    expect(rulesOf({ readings: readings(high) })).toEqual(
      expect.arrayContaining(['reading overdue', 'unconfirmed reading']),
    );
  });
});

describe('a slip among the first readings', () => {
  const idles = [13, 9, 12.6, 13.1, 13, 13.2];
  const read = quarterly(asOf - 5, idles).map((reading) => ({ ...reading, lowest: psi(8) }));
  const assessment = assessUnit(aUnit({ readings: read }));

  it('is left out of the own start, once later readings show it for what it was', () => {
    expect(assessment.baseline.idleSle).toBeCloseTo(psi(13), 9);
  });

  it('is the only visit that is put down as an error', () => {
    const visits = visitsOf(
      read.map((reading) => {
        const normalised = normalise(reading, 0);
        return (normalised as { reading: SoundReading }).reading;
      }),
    );
    const { refutedOn } = segmentWear(visits, defaultFleetPrior, defaultLimits);
    expect([...refutedOn]).toEqual([visits[1]!.day]);
  });
});

it('draws no curve where none is asked for', () => {
  expect(assessUnit(aUnit({ isForecastCharted: false })).forecast).toEqual([]);
  expect(assessUnit(aUnit({ isForecastCharted: true })).forecast.length).toBeGreaterThan(0);
});

describe('under other bulletins', () => {
  const due: BulletinDue = {
    ...{ bulletinId: 'b', number: 'SB-1' },
    ...{ dueOn: asOf + 30, isDoNotDrive: false },
  };
  const late = { ...due, number: 'SB-2', dueOn: asOf - 9 };
  const undated = { ...due, number: 'SB-3', dueOn: null };
  const stop = { ...due, isDoNotDrive: true };
  const lists = [[], [due], [late, undated], [stop], [stop, late, late]];
  const histories: Record<string, Partial<AssessUnitInput>> = {
    sound: {},
    unread: { readings: [] },
    'below caution': { readings: visited({}, { idle: psi(9.5) }) },
    stopped: { readings: visited({}, { line: 'wet' }) },
    'laid up': { laidUpOn: asOf - 1 },
    drifting: { readings: visited({}, { line: 'film' }) },
  };

  it.each(Object.entries(histories))('%s: as judging the whole unit gives', (_, history) => {
    const wholes = lists.map((bulletinsDue) => assessUnit(aUnit({ ...history, bulletinsDue })));
    const horizon = asOf + defaultLimits.horizonDays;
    wholes.forEach((assessment) => {
      lists.forEach((bulletinsDue, k) => {
        const whole = wholes[k]!;
        const part = rejudgeBulletins({ assessment, bulletinsDue, horizon });
        if (part) expect({ ...assessment, ...part }).toEqual(whole);
        else {
          expect(whole.mark).not.toBe(assessment.mark);
          expect([whole.mark, assessment.mark]).toEqual(
            expect.arrayContaining([expect.stringMatching(/Drifting|Out of service/)]),
          );
        }
      });
    });
  });

  it('the earliest edge is the bulletin, the limit passed, or none', () => {
    const edgeOf = (input: Partial<AssessUnitInput>) => {
      const { earliestEdge, earliestEdgeCause } = assessUnit(aUnit(input));
      return [earliestEdge, earliestEdgeCause];
    };
    expect(edgeOf({ bulletinsDue: [due] })).toEqual([asOf + 30, 'bulletin']);
    expect(edgeOf({ ...histories.stopped, bulletinsDue: [due] })).toEqual([
      asOf - 5,
      'limit passed',
    ]);
    expect(edgeOf({ readings: [] })).toEqual([null, null]);
  });
});

describe('the words of a reason', () => {
  it.each([
    [{ rule: 'wear score', value: 0.2345, limit: 0.18 }, /wear score 0\.23, booked from 0\.18\.$/],
    [{ rule: 'wear score rising', value: 0.1, limit: 0.08 }, /wear score 0\.10.* 0\.08\.$/],
    [{ rule: 'reading overdue', value: 106.4, limit: 105 }, / 106 days ago; 105 days /],
    [
      { rule: 'recovery over stop', value: 30.26, limit: 30, on: 0 },
      / 30\.3 s on 1970-01-01,.* 30\.0 s/,
    ],
    [{ rule: 'recovery over stop', value: 30.01, limit: 30, on: 0 }, / 30\.0 s .* 30\.0 s/],
    [{ rule: 'pedal hard', about: 'hard', on: 1 }, /hard from the start on 1970-01-02/],
    [{ rule: 'pedal hard', about: 'hardens', on: 1 }, /went hard by the fourth press/],
  ])('%j', (finding, text) => {
    expect(reasonText(finding)).toMatch(text);
  });

  it('come worst first, and have a measure only where something was measured', () => {
    const reasons = reasonsOf([
      { rule: 'film once' },
      { rule: 'idle below stop', value: 40, limit: 48, readingIds: ['r'] },
      { rule: 'recovery over caution', value: 20, limit: 15 },
      { rule: 'line wet' },
    ]);
    expect(reasons.map(({ mark, rule }) => [mark, rule])).toEqual([
      ['Out of service', 'idle below stop'],
      ['Out of service', 'line wet'],
      ['Book in', 'recovery over caution'],
      ['Drifting', 'film once'],
    ]);
    const [idle, line, recovery] = reasons;
    expect(idle).toMatchObject({ measure: 'kPa', asRead: true, readingIds: ['r'] });
    expect(line).toMatchObject({ readingIds: [] });
    for (const key of ['measure', 'asRead']) expect(line).not.toHaveProperty(key);
    expect(recovery).toMatchObject({ measure: 's' });
    expect(recovery).not.toHaveProperty('asRead');
  });
});
