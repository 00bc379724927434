import type { Placement, PlanInput, Visit } from '@/lib/planning/plan';

/** Placed jobs of one unit in one shed and week are one visit and set up once. In order of week, shed, unit. */
export function visitsOf(input: PlanInput, placement: Placement): Visit[] {
  const visits = new Map<string, Visit>();
  for (const job of input.jobs) {
    const slot = placement.get(job.id);
    if (!slot) continue;
    const key = [slot.week, slot.shedId, job.unit].join('\n');
    const visit = visits.get(key);
    visits.set(key, {
      unit: job.unit,
      slot,
      jobIds: [...(visit?.jobIds ?? []), job.id],
      hours: (visit?.hours ?? input.setUpHours) + job.hours,
    });
  }
  return [...visits].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, visit]) => visit);
}
