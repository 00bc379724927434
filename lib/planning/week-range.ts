import { isoWeekOf } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { PlanInput } from '@/lib/planning/plan';

/** ISO weeks of the plan, first to last, each with its Monday. */
export const weekRange = (
  input: Pick<PlanInput, 'firstMonday' | 'weekCount'>,
): ReadonlyMap<string, DayNumber> =>
  new Map(
    Array.from({ length: input.weekCount }, (_, week) => {
      const monday = input.firstMonday + 7 * week;
      return [isoWeekOf(monday), monday] as const;
    }),
  );
