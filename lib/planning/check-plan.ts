import { openHours } from '@/lib/planning/open-hours';
import type { BaySlot, Placement, PlanInput } from '@/lib/planning/plan';
import { visitsOf } from '@/lib/planning/visits-of';
import { weekRange } from '@/lib/planning/week-range';
import { whyNotInSlot } from '@/lib/planning/why-not-in-slot';

export interface SlotLoad {
  readonly slot: BaySlot;
  readonly openHours: number;
  readonly placedHours: number;
  /** What the pinned jobs alone take, set-up included. */
  readonly pinnedHours: number;
  readonly isOverfull: boolean;
}

export interface PlanBreach {
  readonly jobId: string | null;
  readonly slot: BaySlot | null;
  readonly rule:
    | 'job without an entry'
    | 'entry without a job'
    | 'pin moved'
    | 'week overfilled'
    | 'place not open to the job';
}

export interface PlanCheck {
  /** Every shed and week, sheds in order. */
  readonly loads: readonly SlotLoad[];
  /** Empty for every plan that the planner gives. A week that pins alone overfill is no breach. */
  readonly breaches: readonly PlanBreach[];
}

const tolerance = 1e-6;
const keyOf = (slot: BaySlot): string => `${slot.shedId}\n${slot.week}`;

function hoursBySlot(input: PlanInput, placement: Placement): Map<string, number> {
  const hours = new Map<string, number>();
  for (const visit of visitsOf(input, placement)) {
    const key = keyOf(visit.slot);
    hours.set(key, (hours.get(key) ?? 0) + visit.hours);
  }
  return hours;
}

const isSame = (a: BaySlot | null | undefined, b: BaySlot): boolean =>
  a?.shedId === b.shedId && a.week === b.week;

/** Adds up every week again from the jobs themselves, and every rule that a plan must keep. */
export function checkPlan(input: PlanInput, placement: Placement): PlanCheck {
  const weeks = weekRange(input);
  const pins: Placement = new Map(
    input.jobs.map(({ id, pinned }) => [
      id,
      pinned && isSame(placement.get(id), pinned) ? pinned : null,
    ]),
  );
  const placed = hoursBySlot(input, placement);
  const pinned = hoursBySlot(input, pins);
  const breaches: PlanBreach[] = [];

  const loads = input.sheds.flatMap((shed) =>
    [...weeks.keys()].map((week): SlotLoad => {
      const slot = { shedId: shed.id, week };
      const open = openHours(shed, week);
      const placedHours = placed.get(keyOf(slot)) ?? 0;
      const pinnedHours = pinned.get(keyOf(slot)) ?? 0;
      if (placedHours > Math.max(open, pinnedHours) + tolerance) {
        breaches.push({ jobId: null, slot, rule: 'week overfilled' });
      }
      const isOverfull = placedHours > open + tolerance;
      return { slot, openHours: open, placedHours, pinnedHours, isOverfull };
    }),
  );

  const known = new Set(input.jobs.map(({ id }) => id));
  for (const [jobId, slot] of placement) {
    if (!known.has(jobId)) breaches.push({ jobId, slot, rule: 'entry without a job' });
  }
  const sheds = new Set(input.sheds.map(({ id }) => id));
  for (const job of input.jobs) {
    const slot = placement.get(job.id);
    const breach = (rule: PlanBreach['rule']): void => {
      breaches.push({ jobId: job.id, slot: slot ?? null, rule });
    };
    if (slot === undefined) breach('job without an entry');
    else if (job.pinned) {
      const canKeep = sheds.has(job.pinned.shedId) && weeks.has(job.pinned.week);
      if (canKeep ? !isSame(slot, job.pinned) : slot !== null) breach('pin moved');
    } else if (slot && whyNotInSlot(input, weeks, job, slot)) breach('place not open to the job');
  }
  return { loads, breaches };
}
