import type { DayNumber } from '@/lib/measure';
import type { BaySlot, PlanInput, PlanJob } from '@/lib/planning/plan';

export type WhyNotInSlot = 'not a planned week' | 'not its shed' | 'not ready' | 'unit away';

/** What, apart from bay hours, keeps a job out of a slot; null when nothing does. `weeks` is the `weekRange` of the input. */
export function whyNotInSlot(
  input: PlanInput,
  weeks: ReadonlyMap<string, DayNumber>,
  job: PlanJob,
  slot: BaySlot,
): WhyNotInSlot | null {
  const monday = weeks.get(slot.week);
  const isPlanned = input.sheds.some(({ id }) => id === slot.shedId) && monday !== undefined;
  if (!isPlanned) return 'not a planned week';
  const isItsShed =
    slot.shedId === job.shedId || job.otherSheds?.some(({ shedId }) => shedId === slot.shedId);
  if (!isItsShed) return 'not its shed';
  if (job.blackoutWeeks.includes(slot.week)) return 'unit away';
  return job.readyOn !== null && monday < job.readyOn ? 'not ready' : null;
}
