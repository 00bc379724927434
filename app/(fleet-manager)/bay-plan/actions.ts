'use server';

import { revalidatePath } from 'next/cache';
import { z } from 'zod';
import { unlessDenied } from '@/app/_denied';
import { planElsewhere } from '@/app/_planner/plan-elsewhere';
import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { bayPlan } from '@/db/reads/bay-plan';
import { type OrderPlacement, type PlacedBefore, placeOrders } from '@/db/writes/place-orders';
import { localDay } from '@/lib/calendar';
import { plainText } from '@/lib/plain-text';
import { moveJobs } from '@/lib/planning/move-jobs';
import { costOfPlacement } from '@/lib/planning/weigh-plan';
import { type PlanState, planProblem } from './plan-state';

const changedMeanwhile = (orderNumber: number | null): PlanState =>
  planProblem(
    'slot',
    `Order ${orderNumber ?? ''} was changed by somebody else meanwhile. Nothing was overwritten.`,
    'Look at the plan again, and repeat what is still right.',
  );

const orDenied = (act: () => Promise<PlanState>) =>
  unlessDenied(act, (why) => planProblem('slot', why, 'Ask a fleet manager.'));

const done = (said: readonly string[], undo: PlacedBefore): PlanState => {
  revalidatePath('/bay-plan');
  return { problems: [], said, undo };
};

const move = z.object({
  orderId: z.uuid(),
  seenVersion: z.coerce.number().int().min(1),
  /** `shed/2026-W05`, or `none` to take it out. */
  slot: z.string().regex(/^(none|[a-z0-9-]+\/\d{4}-W\d{2})$/i),
  reason: plainText(200).default(''),
});

/** Puts one order where a person says: pinned there, so that a proposal leaves it. */
export async function moveInPlan(_: PlanState, form: FormData): Promise<PlanState> {
  const actor = await requireSignIn('/bay-plan');
  const parsed = move.safeParse(Object.fromEntries(form));
  if (!parsed.success) return planProblem('slot', 'No week is chosen.', 'Choose a shed and week.');
  const { orderId, seenVersion, slot, reason } = parsed.data;
  const [shedId = '', week = ''] = slot.split('/');
  const to = slot === 'none' ? null : { shedId, week };
  return orDenied(async () => {
    const { db } = await database();
    const now = new Date();
    const { input, placement } = await bayPlan(db, actor, localDay(now, 'UTC'));
    // A person may send a unit to any shed; a proposal leaves it at its own.
    const otherSheds = input.sheds.map(({ id }) => ({ shedId: id, cost: 0 }));
    const open = { ...input, jobs: input.jobs.map((job) => ({ ...job, otherSheds })) };
    const fits = moveJobs(open, placement, [orderId], to);
    const moved = fits.ok || reason === '' ? fits : moveJobs(open, placement, [orderId], to, true);
    if (!moved.ok) return { problems: moved.error, said: [], undo: [] };
    const overfilledWhy = fits.ok ? null : reason;
    const placed = await placeOrders(db, {
      actor,
      placements: [{ orderId, seenVersion, to, isPinned: to !== null, overfilledWhy }],
      because: 'moved by hand',
      now,
    });
    if (!placed.ok) return changedMeanwhile(placed.error.orderNumber);
    const said = to
      ? `Placed in ${week}, pinned.${overfilledWhy ? ' The week is overfull.' : ''}`
      : 'Out of the plan.';
    return done([said], placed.value);
  });
}

const placements = z
  .array(
    z.object({
      orderId: z.uuid(),
      seenVersion: z.number().int().min(1),
      to: z.object({ shedId: z.string(), week: z.string().regex(/^\d{4}-W\d{2}$/) }).nullable(),
      isPinned: z.boolean(),
      overfilledWhy: plainText(200).nullable(),
    }),
  )
  .max(5000);

/** Puts orders back where they stood, unless somebody has moved one since. */
export async function undoInPlan(undo: readonly OrderPlacement[]): Promise<PlanState> {
  const actor = await requireSignIn('/bay-plan');
  const parsed = placements.safeParse(undo);
  if (!parsed.success) return planProblem('slot', 'There is nothing to undo.', '');
  return orDenied(async () => {
    const { db } = await database();
    const placed = await placeOrders(db, {
      actor,
      placements: parsed.data,
      because: 'undone',
      now: new Date(),
    });
    if (!placed.ok) return changedMeanwhile(placed.error.orderNumber);
    return done(['Undone.'], []);
  });
}

/** Places every order that is not pinned, and says what the plan weighed before and weighs now. */
export async function proposeForAll(): Promise<PlanState> {
  const actor = await requireSignIn('/bay-plan');
  return orDenied(async () => {
    const { db } = await database();
    const now = new Date();
    const plan = await bayPlan(db, actor, localDay(now, 'UTC'));
    const proposal = await planElsewhere({ ask: 'propose', input: plan.input });
    const changes = plan.orders.flatMap((order): OrderPlacement[] => {
      const to = proposal.placement.get(order.id) ?? null;
      const isFree = (order.state === 'raised' || order.state === 'placed') && !order.isPinned;
      const isSame =
        to === null
          ? order.state === 'raised'
          : order.state === 'placed' && to.week === order.week && to.shedId === order.shedId;
      if (!isFree || isSame) return [];
      const { id: orderId, version: seenVersion } = order;
      return [{ orderId, seenVersion, to, isPinned: false, overfilledWhy: null }];
    });
    const placed =
      changes.length > 0
        ? await placeOrders(db, { actor, placements: changes, because: 'proposal', now })
        : null;
    if (placed && !placed.ok) return changedMeanwhile(placed.error.orderNumber);
    const before = costOfPlacement(plan.input, plan.placement);
    return done(
      [
        `${changes.length} orders placed or moved.`,
        `The plan weighed ${before.toFixed(1)} bay hours of risk and delay before, and weighs ${proposal.cost.toFixed(1)} now.`,
        ...proposal.notPlaced.map(({ unit, text }) => `${unit}: ${text}`),
      ],
      placed?.value ?? [],
    );
  });
}
