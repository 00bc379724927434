import { describe, expect, it } from 'vitest';
import { dayFromIso } from '@/lib/calendar';
import { checkPlan } from '@/lib/planning/check-plan';
import { explainNotPlaced } from '@/lib/planning/explain-not-placed';
import { moveJobs } from '@/lib/planning/move-jobs';
import { openHours } from '@/lib/planning/open-hours';
import { type BaySlot, defaultPlanCosts, type PlanInput, type PlanJob } from '@/lib/planning/plan';
import { costOfWeek } from '@/lib/planning/plan-grid';
import { visitsOf } from '@/lib/planning/visits-of';

const firstMonday = dayFromIso('2026-01-05')!;
const river = (week: string): BaySlot => ({ shedId: 'river', week });
const job = (id: string, changes: Partial<PlanJob> = {}): PlanJob => ({
  id,
  unit: id,
  kind: 'pump',
  hours: 2,
  shedId: 'river',
  crossing: [],
  wantedBy: null,
  readyOn: null,
  blackoutWeeks: [],
  pinned: null,
  ...changes,
});
const plan = (jobs: readonly PlanJob[]): PlanInput => ({
  firstMonday,
  weekCount: 3,
  sheds: [
    {
      id: 'river',
      name: 'River shed',
      hoursPerWeek: 5,
      closures: [{ week: '2026-W03', hoursLost: 2 }],
    },
  ],
  jobs,
  setUpHours: 0.5,
  costs: defaultPlanCosts,
});

describe('openHours', () => {
  it('takes closures off, never below none', () => {
    const shed = {
      id: 's',
      name: 'S',
      hoursPerWeek: 24,
      closures: [{ week: '2026-W02', hoursLost: 8 }],
    };
    expect(openHours(shed, '2026-W02')).toBe(16);
    expect(openHours(shed, '2026-W03')).toBe(24);
    expect(
      openHours({ ...shed, closures: [{ week: '2026-W02', hoursLost: 40 }] }, '2026-W02'),
    ).toBe(0);
  });
});

describe('costOfWeek', () => {
  it('weighs the chance of a crossing and the days past the date wanted', () => {
    const input = plan([]);
    const due = job('a', { crossing: [0, 0.1, 0.5, 0.75], wantedBy: firstMonday + 7 });
    expect(costOfWeek(input, due, 0)).toBe(0);
    expect(costOfWeek(input, due, 1)).toBeCloseTo(60 * 0.1 + 0.25 * 4, 12);
    expect(costOfWeek(input, due, 3)).toBeCloseTo(60 * 0.75 + 0.25 * 18, 12);
  });
});

describe('visitsOf', () => {
  it('sets up once for the jobs of a unit in one shed and week', () => {
    const input = plan([
      job('a', { unit: '0417' }),
      job('b', { unit: '0417', hours: 1 }),
      job('c'),
    ]);
    const placement = new Map([
      ['a', river('2026-W02')],
      ['b', river('2026-W02')],
      ['c', null],
    ]);
    expect(visitsOf(input, placement)).toEqual([
      { unit: '0417', slot: river('2026-W02'), jobIds: ['a', 'b'], hours: 3.5 },
    ]);
  });
});

describe('checkPlan', () => {
  it('finds each rule broken', () => {
    const input = plan([
      job('pinned', { pinned: river('2026-W02') }),
      job('late', { readyOn: firstMonday + 8 }),
      job('away', { blackoutWeeks: ['2026-W03'] }),
      job('forgotten'),
      job('big', { hours: 4.6 }),
    ]);
    const { breaches } = checkPlan(
      input,
      new Map([
        ['pinned', river('2026-W03')],
        ['late', river('2026-W03')],
        ['away', river('2026-W03')],
        ['big', river('2026-W04')],
        ['unheard of', null],
      ]),
    );
    expect(breaches.map(({ jobId, slot, rule }) => [jobId ?? slot?.week, rule])).toEqual([
      ['2026-W03', 'week overfilled'],
      ['2026-W04', 'week overfilled'],
      ['unheard of', 'entry without a job'],
      ['pinned', 'pin moved'],
      ['late', 'place not open to the job'],
      ['away', 'place not open to the job'],
      ['forgotten', 'job without an entry'],
    ]);
  });

  it('lets pins overfill a week, flagged, and nothing else with them', () => {
    const pinned = river('2026-W02');
    const input = plan([
      job('a', { pinned }),
      job('b', { pinned }),
      job('c', { pinned }),
      job('d'),
    ]);
    const pins = [
      ['a', pinned],
      ['b', pinned],
      ['c', pinned],
    ] as const;
    const kept = checkPlan(input, new Map<string, BaySlot | null>([...pins, ['d', null]]));
    expect(kept.breaches).toEqual([]);
    expect(kept.loads[0]).toMatchObject({
      openHours: 5,
      placedHours: 7.5,
      pinnedHours: 7.5,
      isOverfull: true,
    });
    const added = checkPlan(input, new Map([...pins, ['d', pinned]]));
    expect(added.breaches.map(({ rule }) => rule)).toEqual(['week overfilled']);
  });
});

describe('explainNotPlaced', () => {
  const whyOf = (jobs: readonly PlanJob[], placed: readonly (readonly [string, BaySlot])[]) =>
    explainNotPlaced(
      plan(jobs),
      new Map<string, BaySlot | null>([...jobs.map(({ id }) => [id, null] as const), ...placed]),
    )[0];

  it('names the week that lacks least, or an earlier part', () => {
    const full = [
      job('x', { readyOn: firstMonday + 7 }),
      job('w3', { hours: 2 }),
      job('w4', { hours: 3.9 }),
    ];
    const found = whyOf(full, [
      ['w3', river('2026-W03')],
      ['w4', river('2026-W04')],
    ]);
    expect(found).toMatchObject({
      why: 'no bay hours',
      freedBy: [
        { by: 'hours', slot: river('2026-W04'), hours: expect.closeTo(1.9, 9) },
        { by: 'ready earlier', slot: river('2026-W02'), readyOn: firstMonday },
      ],
      text: 'Not placed: no bay hours. It would take 1.9 h more in 2026-W04 at River shed, or its parts there by 2026-W02 at River shed.',
    });
  });

  it('tells a part too late, a unit away, a shed unknown and a visit not worth it apart', () => {
    const why = (changes: Partial<PlanJob>) => whyOf([job('x', changes)], [])?.why;
    expect(why({ readyOn: firstMonday + 60 })).toBe('not ready in time');
    expect(why({ blackoutWeeks: ['2026-W02', '2026-W03', '2026-W04'] })).toBe('unit away');
    expect(why({ blackoutWeeks: ['2026-W02'], readyOn: firstMonday + 60 })).toBe(
      'not ready in time',
    );
    expect(why({ shedId: 'hill' })).toBe('shed not in the plan');
    expect(why({ pinned: river('2027-W01') })).toBe('pinned outside the plan');
    expect(why({})).toBe('costs more to bring in than to leave');
    expect(why({ hours: 40 })).toBe('no bay hours');
  });
});

describe('moveJobs', () => {
  const jobs = [
    job('a', { unit: '0417' }),
    job('b', { unit: '0417', hours: 1 }),
    job('c', { blackoutWeeks: ['2026-W04'], readyOn: firstMonday + 7 }),
  ];
  const input = plan(jobs);
  const placement = new Map<string, BaySlot | null>([
    ['a', river('2026-W02')],
    ['b', river('2026-W02')],
    ['c', null],
  ]);

  it('moves a visit as one', () => {
    const moved = moveJobs(input, placement, ['a', 'b'], river('2026-W04'));
    expect(moved.ok && visitsOf(input, moved.value)).toMatchObject([
      { slot: river('2026-W04'), jobIds: ['a', 'b'] },
    ]);
    const out = moveJobs(input, placement, ['b'], null);
    expect(out.ok && out.value.get('b')).toBeNull();
  });

  it('refuses and says why', () => {
    const refusal = (ids: readonly string[], to: BaySlot): string | false => {
      const moved = moveJobs(input, placement, ids, to);
      return !moved.ok && moved.error[0]!.message;
    };
    expect(refusal(['a', 'b'], river('2026-W03'))).toBe(
      '2026-W03 at River shed has 3.0 h; with this it would hold 3.5 h.',
    );
    expect(moveJobs(input, placement, ['a', 'b'], river('2026-W03'), true).ok).toBe(true);
    expect(moveJobs(input, placement, ['c'], river('2026-W04'), true).ok).toBe(false);
    expect(refusal(['c'], river('2026-W04'))).toBe(
      '2026-W04 at River shed is a week in which the unit cannot come.',
    );
    expect(refusal(['c'], river('2026-W02'))).toBe(
      '2026-W02 at River shed begins before the work can.',
    );
    expect(refusal(['c'], river('2026-W09'))).toBe('2026-W09 at River shed is not in the plan.');
    expect(refusal(['z'], river('2026-W04'))).toBe('This job is no longer in the plan.');
  });
});
