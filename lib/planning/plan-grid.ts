import { openHours } from '@/lib/planning/open-hours';
import {
  type BaySlot,
  bayMinutes,
  type Placement,
  type PlanInput,
  type PlanJob,
  workMinutes,
} from '@/lib/planning/plan';
import { weekRange } from '@/lib/planning/week-range';

/**
 * The plan as numbers. A slot is shed × weeks + week; the last column, `outside`, is "not placed":
 * it has no end of hours and needs no visit. Minutes are whole, so sums are exact.
 */
export interface PlanGrid {
  readonly input: PlanInput;
  readonly weeks: readonly string[];
  readonly slots: readonly BaySlot[];
  readonly outside: number;
  /** Slots and the outside. */
  readonly width: number;
  readonly minutes: Int32Array;
  /** Minutes open in each slot, never less than what is pinned there. */
  readonly capacity: Int32Array;
  readonly unitOf: Int32Array;
  readonly unitCount: number;
  readonly jobsOfUnit: readonly (readonly number[])[];
  /** Job × width; Infinity where the job cannot go. */
  readonly cost: Float64Array;
  /** Columns open to each job; one only for a pinned job. */
  readonly choices: readonly Int32Array[];
  readonly setUpMinutes: number;
  readonly visitCost: number;
}

/**
 * What a job costs in a week, in bay hours: crossing × P(limit met before the week begins) +
 * days between the date wanted and that week's Friday. `week` = weekCount is the end of the plan.
 */
export function costOfWeek(input: PlanInput, job: PlanJob, week: number): number {
  const probability = job.crossing[week] ?? job.crossing.at(-1) ?? 0;
  const friday = input.firstMonday + 7 * week + 4;
  const overdue = job.wantedBy === null ? 0 : Math.max(0, friday - job.wantedBy);
  return input.costs.crossing * probability + input.costs.overdueDay * overdue;
}

/** First week, as an index, that begins with the job ready. */
const firstReadyWeek = (input: PlanInput, job: PlanJob): number =>
  job.readyOn === null ? 0 : Math.max(0, Math.ceil((job.readyOn - input.firstMonday) / 7));

function indexOfUnits(jobs: readonly PlanJob[]) {
  const index = new Map<string, number>();
  const unitOf = Int32Array.from(jobs, ({ unit }) => {
    const known = index.get(unit);
    if (known !== undefined) return known;
    index.set(unit, index.size);
    return index.size - 1;
  });
  const jobsOfUnit: number[][] = Array.from({ length: index.size }, () => []);
  for (const [job, unit] of unitOf.entries()) jobsOfUnit[unit]!.push(job);
  return { unitOf, unitCount: index.size, jobsOfUnit };
}

/** Columns open to a job, each with its cost there; the last is the outside. */
function optionsOf(input: PlanInput, job: PlanJob, weeks: readonly string[]): [number, number][] {
  const columnOf = (shedId: string, week: number): number | null => {
    const shed = input.sheds.findIndex(({ id }) => id === shedId);
    return shed < 0 || week < 0 ? null : shed * weeks.length + week;
  };
  const outside: [number, number] = [
    input.sheds.length * weeks.length,
    costOfWeek(input, job, weeks.length) + input.costs.notPlaced,
  ];
  if (job.pinned) {
    const week = weeks.indexOf(job.pinned.week);
    const column = columnOf(job.pinned.shedId, week);
    return [column === null ? outside : [column, costOfWeek(input, job, week)]];
  }
  const options: [number, number][] = [];
  for (const place of [{ shedId: job.shedId, cost: 0 }, ...(job.otherSheds ?? [])]) {
    for (let week = firstReadyWeek(input, job); week < weeks.length; week++) {
      const column = columnOf(place.shedId, week);
      if (column === null || job.blackoutWeeks.includes(weeks[week]!)) continue;
      options.push([column, costOfWeek(input, job, week) + place.cost]);
    }
  }
  return [...options, outside];
}

/** Raises the minutes open to what the pins alone take: full, but no reason to move anything. */
function admitPins(grid: PlanGrid): void {
  const pinned = new Int32Array(grid.width);
  const visits = new Set<number>();
  grid.input.jobs.forEach((job, at) => {
    const slot = grid.choices[at]![0]!;
    if (!job.pinned || slot === grid.outside) return;
    const visit = grid.unitOf[at]! * grid.width + slot;
    pinned[slot]! += grid.minutes[at]! + (visits.has(visit) ? 0 : grid.setUpMinutes);
    visits.add(visit);
    grid.capacity[slot] = Math.max(grid.capacity[slot]!, pinned[slot]!);
  });
}

export function planGrid(input: PlanInput): PlanGrid {
  const { jobs, sheds } = input;
  const weeks = [...weekRange(input).keys()];
  const slots = sheds.flatMap(({ id }) => weeks.map((week): BaySlot => ({ shedId: id, week })));
  const outside = slots.length;
  const width = outside + 1;
  const cost = new Float64Array(jobs.length * width).fill(Number.POSITIVE_INFINITY);
  const choices = jobs.map((job, at) => {
    const options = optionsOf(input, job, weeks);
    for (const [column, value] of options) cost[at * width + column] = value;
    return Int32Array.from(options, ([column]) => column);
  });
  const open = sheds.flatMap((shed) => weeks.map((week) => bayMinutes(openHours(shed, week))));
  const grid: PlanGrid = {
    input,
    weeks,
    slots,
    outside,
    width,
    minutes: Int32Array.from(jobs, ({ hours }) => workMinutes(hours)),
    capacity: Int32Array.from([...open, 2 ** 30]),
    ...indexOfUnits(jobs),
    cost,
    choices,
    setUpMinutes: workMinutes(input.setUpHours),
    visitCost: input.costs.visit,
  };
  admitPins(grid);
  return grid;
}

export const placementOf = (grid: PlanGrid, slotOf: Int32Array): Placement =>
  new Map(grid.input.jobs.map(({ id }, job) => [id, grid.slots[slotOf[job]!] ?? null]));
