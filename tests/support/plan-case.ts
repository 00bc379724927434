import { dayFromIso, isoWeekOf } from '@/lib/calendar';
import { defaultPlanCosts, type PlanInput, type PlanJob } from '@/lib/planning/plan';

/** Seeded uniform draws in [0, 1). */
export function drawsFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

export interface PlanCase {
  readonly seed: number;
  readonly jobs: number;
  readonly weeks: number;
  readonly sheds: number;
  /** Bay hours open as a share of the hours wanted. */
  readonly tightness: number;
  /** Week in which the first work is wanted; before 0 it is overdue already. */
  readonly wantedFrom?: number;
}

const kinds = [
  { kind: 'pump', hours: [2, 2.5, 3] },
  { kind: 'belt', hours: [0.5, 0.75, 1] },
  { kind: 'bulletin', hours: [0.5, 1, 1.5, 2.5] },
  { kind: 'check valve', hours: [0.4, 0.6] },
] as const;

/** An invented fleet's work: about three jobs for two units, wanted over the whole plan and before it. */
export function planCase({
  seed,
  jobs: count,
  weeks,
  sheds: shedCount,
  tightness,
  wantedFrom = -10,
}: PlanCase): PlanInput {
  const draw = drawsFrom(seed);
  const pick = <Item>(items: readonly Item[]): Item => items[Math.floor(draw() * items.length)]!;
  const firstMonday = dayFromIso('2026-01-05')!;
  const unitCount = Math.max(1, Math.round(count / 1.5));
  const shedOfUnit = Array.from({ length: unitCount }, () => Math.floor(draw() * shedCount));
  const jobs = Array.from({ length: count }, (_, index): PlanJob => {
    const unit = index < unitCount ? index : Math.floor(draw() * unitCount);
    const { kind, hours } = index < unitCount ? pick(kinds) : kinds[1 + Math.floor(draw() * 3)]!;
    const median = wantedFrom + draw() * (weeks + 10 - wantedFrom);
    const spread = 1 + draw() * 6;
    const forecast = kind === 'pump' || kind === 'check valve';
    return {
      id: `job-${index}`,
      unit: `${100 + unit}`,
      kind,
      hours: pick(hours),
      shedId: `shed-${shedOfUnit[unit]}`,
      crossing: forecast
        ? Array.from({ length: weeks + 1 }, (_, w) => 1 / (1 + Math.exp(-(w - median) / spread)))
        : [],
      wantedBy: firstMonday + Math.round(7 * (median - (forecast ? 2 * spread : 0))),
      readyOn: draw() < 0.3 ? firstMonday + Math.round(draw() * 35) : null,
      blackoutWeeks: draw() < 0.1 ? [isoWeekOf(firstMonday + 7 * Math.floor(draw() * weeks))] : [],
      pinned: null,
    };
  });
  const sheds = Array.from({ length: shedCount }, (_, shed) => {
    const wanted = jobs
      .filter(({ shedId }) => shedId === `shed-${shed}`)
      .reduce((sum, job) => sum + job.hours + 0.35, 0);
    return {
      id: `shed-${shed}`,
      name: `Shed ${shed}`,
      hoursPerWeek: Math.round((4 * tightness * wanted) / weeks) / 4,
      closures: [{ week: isoWeekOf(firstMonday + 7 * Math.floor(weeks / 3)), hoursLost: 3 }],
    };
  });
  return { firstMonday, weekCount: weeks, sheds, jobs, setUpHours: 0.5, costs: defaultPlanCosts };
}
