import 'server-only';
import { planElsewhere } from '@/app/_planner/plan-elsewhere';
import type { Db } from '@/db/client';
import { bayPlan } from '@/db/reads/bay-plan';
import { placeOrders } from '@/db/writes/place-orders';
import type { Actor } from '@/lib/access';
import { localDay } from '@/lib/calendar';

/** Finds weeks for some orders around all that is placed, which stays where it is. Returns how many. */
export async function findWeeks(
  db: Db,
  actor: Actor,
  orderIds: readonly string[],
  now: Date,
): Promise<number> {
  const wanted = new Set(orderIds);
  const plan = await bayPlan(db, actor, localDay(now, 'UTC'));
  const orderOf = new Map(plan.orders.map((order) => [order.id, order]));
  const jobs = plan.input.jobs.flatMap((job) => {
    const order = orderOf.get(job.id);
    if (wanted.has(job.id)) return [job];
    // An order that nobody has placed yet takes no hours from these.
    if (!order?.week) return [];
    return [{ ...job, pinned: { shedId: order.shedId, week: order.week } }];
  });
  const proposal = await planElsewhere({ ask: 'propose', input: { ...plan.input, jobs } });
  const placements = orderIds.flatMap((orderId) => {
    const to = proposal.placement.get(orderId);
    const order = orderOf.get(orderId);
    if (!to || !order) return [];
    return [{ orderId, seenVersion: order.version, to, isPinned: false, overfilledWhy: null }];
  });
  if (placements.length === 0) return 0;
  const placed = await placeOrders(db, { actor, placements, because: 'proposal', now });
  return placed.ok ? placed.value.length : 0;
}
