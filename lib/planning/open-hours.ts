import type { PlanShed } from '@/lib/planning/plan';

/** Bay hours of a week, closures taken off: 24 h less an 8 h holiday is 16 h; never below none. */
export const openHours = (shed: PlanShed, week: string): number =>
  shed.closures.reduce(
    (hours, closure) => (closure.week === week ? Math.max(0, hours - closure.hoursLost) : hours),
    Math.max(0, shed.hoursPerWeek),
  );
