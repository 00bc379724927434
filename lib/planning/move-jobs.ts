import { checkPlan } from '@/lib/planning/check-plan';
import type { BaySlot, Placement, PlanInput } from '@/lib/planning/plan';
import { weekRange } from '@/lib/planning/week-range';
import { whyNotInSlot } from '@/lib/planning/why-not-in-slot';
import { failure, type Result, success } from '@/lib/result';

const inWords = {
  'not a planned week': 'is not in the plan',
  'not its shed': 'is not a shed that takes this unit',
  'not ready': 'begins before the work can',
  'unit away': 'is a week in which the unit cannot come',
} as const;

/**
 * Moves the jobs of a visit to another slot, or out of the plan with null. Refused, with the reason,
 * where the slot is not open to a job or, on `field` reason, where the week would hold more than its
 * hours; `mayOverfill` is for a person who has said why.
 */
export function moveJobs(
  input: PlanInput,
  placement: Placement,
  jobIds: readonly string[],
  to: BaySlot | null,
  mayOverfill = false,
): Result<Placement> {
  const field = 'week';
  const place =
    to && `${to.week} at ${input.sheds.find(({ id }) => id === to.shedId)?.name ?? to.shedId}`;
  const moving = new Set(jobIds);
  const jobs = input.jobs.filter(({ id }) => moving.has(id));
  if (jobs.length < moving.size) {
    return failure([
      { field, message: 'This job is no longer in the plan.', mend: 'Load the plan again.' },
    ]);
  }
  const moved: Placement = new Map([...placement, ...jobs.map(({ id }) => [id, to] as const)]);
  if (!to) return success(moved);
  const weeks = weekRange(input);
  for (const job of jobs) {
    const why = whyNotInSlot(input, weeks, job, to);
    if (why) {
      const mend = 'Choose another week.';
      return failure([{ field, value: to.week, message: `${place} ${inWords[why]}.`, mend }]);
    }
  }
  const load = checkPlan(input, moved).loads.find(
    ({ slot }) => slot.shedId === to.shedId && slot.week === to.week,
  );
  if (load?.isOverfull && !mayOverfill) {
    const message = `${place} has ${load.openHours.toFixed(1)} h; with this it would hold ${load.placedHours.toFixed(1)} h.`;
    const mend =
      'Choose another week, move other work first, or say why it goes there all the same.';
    return failure([{ field: 'reason', value: to.week, message, mend }]);
  }
  return success(moved);
}
