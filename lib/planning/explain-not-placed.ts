import type { DayNumber } from '@/lib/measure';
import { checkPlan } from '@/lib/planning/check-plan';
import type { BaySlot, Placement, PlanInput, PlanJob } from '@/lib/planning/plan';
import { visitsOf } from '@/lib/planning/visits-of';
import { weekRange } from '@/lib/planning/week-range';
import { whyNotInSlot } from '@/lib/planning/why-not-in-slot';

export type WhyNotPlaced =
  | 'no bay hours'
  | 'not ready in time'
  | 'unit away'
  | 'shed not in the plan'
  | 'pinned outside the plan'
  | 'costs more to bring in than to leave';

/** One thing that would give the job a week. */
export type Freeing =
  | { readonly by: 'hours'; readonly slot: BaySlot; readonly hours: number }
  | { readonly by: 'ready earlier'; readonly slot: BaySlot; readonly readyOn: DayNumber }
  | { readonly by: 'unit there'; readonly slot: BaySlot };

export interface NotPlaced {
  readonly jobId: string;
  readonly unit: string;
  readonly why: WhyNotPlaced;
  /** Least first: the week that lacks fewest hours, the part that must hurry least. */
  readonly freedBy: readonly Freeing[];
  readonly text: string;
}

const tenths = (hours: number): string => (Math.ceil(hours * 10 - 1e-6) / 10).toFixed(1);

interface Option {
  readonly slot: BaySlot;
  readonly monday: DayNumber;
  readonly keptOut: ReturnType<typeof whyNotInSlot>;
  /** Hours that the week lacks; nothing or less when there is room. */
  readonly short: number;
}

/** Only the unit's absence keeps the job out, not its parts as well. */
const isOnlyAway = (job: PlanJob, { keptOut, monday }: Option): boolean =>
  keptOut === 'unit away' && (job.readyOn === null || monday >= job.readyOn);

function freeings(job: PlanJob, options: readonly Option[]): Freeing[] {
  const hours = options
    .filter(({ keptOut, short }) => keptOut === null && short > 0)
    .sort((a, b) => a.short - b.short || a.monday - b.monday)[0];
  const withRoom = options.filter(({ short }) => short <= 0);
  const late = withRoom.filter(({ keptOut }) => keptOut === 'not ready').at(-1);
  const away = withRoom.find((option) => isOnlyAway(job, option));
  return [
    ...(hours ? [{ by: 'hours', slot: hours.slot, hours: hours.short } as const] : []),
    ...(late ? [{ by: 'ready earlier', slot: late.slot, readyOn: late.monday } as const] : []),
    ...(away ? [{ by: 'unit there', slot: away.slot } as const] : []),
  ];
}

function whyOf(job: PlanJob, options: readonly Option[]): WhyNotPlaced {
  if (job.pinned) return 'pinned outside the plan';
  if (options.length === 0) return 'shed not in the plan';
  const open = options.filter(({ keptOut }) => keptOut === null);
  if (open.some(({ short }) => short <= 0)) return 'costs more to bring in than to leave';
  if (open.length > 0) return 'no bay hours';
  return options.some((option) => isOnlyAway(job, option)) ? 'unit away' : 'not ready in time';
}

function sentence(input: PlanInput, why: WhyNotPlaced, freedBy: readonly Freeing[]): string {
  const place = ({ shedId, week }: BaySlot): string =>
    `${week} at ${input.sheds.find(({ id }) => id === shedId)?.name ?? shedId}`;
  const mends = freedBy.map((freeing) => {
    if (freeing.by === 'hours') return `${tenths(freeing.hours)} h more in ${place(freeing.slot)}`;
    if (freeing.by === 'ready earlier') return `its parts there by ${place(freeing.slot)}`;
    return `the unit there in ${place(freeing.slot)}`;
  });
  const said = `Not placed: ${why}.`;
  return mends.length === 0 ? said : `${said} It would take ${mends.join(', or ')}.`;
}

/** For every job without a week: what keeps it out, and what would free it. */
export function explainNotPlaced(input: PlanInput, placement: Placement): NotPlaced[] {
  const weeks = weekRange(input);
  const { loads } = checkPlan(input, placement);
  const room = new Map(
    loads.map(({ slot, openHours, placedHours }) => [
      `${slot.shedId}\n${slot.week}`,
      openHours - placedHours,
    ]),
  );
  const visited = new Set(
    visitsOf(input, placement).map(({ unit, slot }) => `${unit}\n${slot.shedId}\n${slot.week}`),
  );
  return input.jobs
    .filter(({ id }) => !placement.get(id))
    .map((job) => {
      const sheds = [job.shedId, ...(job.otherSheds ?? []).map(({ shedId }) => shedId)];
      const options = input.sheds
        .filter(({ id }) => sheds.includes(id))
        .flatMap(({ id }) =>
          [...weeks].map(([week, monday]): Option => {
            const slot = { shedId: id, week };
            const key = `${id}\n${week}`;
            const setUp = visited.has(`${job.unit}\n${key}`) ? 0 : input.setUpHours;
            const lacking = job.hours + setUp - (room.get(key) ?? 0);
            return {
              slot,
              monday,
              keptOut: whyNotInSlot(input, weeks, job, slot),
              short: lacking > 1e-6 ? lacking : 0,
            };
          }),
        )
        .sort((a, b) => a.monday - b.monday);
      const why = whyOf(job, options);
      const freedBy = job.pinned ? [] : freeings(job, options);
      return { jobId: job.id, unit: job.unit, why, freedBy, text: sentence(input, why, freedBy) };
    });
}
