'use server';

import { revalidatePath } from 'next/cache';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { refusalWords } from '@/app/work-orders/words';
import { database } from '@/db/handle';
import { bayPlan } from '@/db/reads/bay-plan';
import { placeWorkOrder, takeOutOfPlan } from '@/db/writes/move-work-order';
import { placeProposal } from '@/db/writes/place-proposal';
import { AccessDenied } from '@/lib/access';
import { localDay, mondayOfIsoWeek } from '@/lib/calendar';
import { proposePlan } from '@/lib/planning/propose-plan';
import type { Problem } from '@/lib/result';

export interface PlanState {
  readonly problems: readonly Problem[];
  readonly said: readonly string[];
}

const problem = (message: string, mend: string): PlanState => ({
  problems: [{ field: 'slot', message, mend }],
  said: [],
});

const move = z.object({
  orderId: z.uuid(),
  seenVersion: z.coerce.number().int().min(1),
  /** `shed/2026-W05`, or `none` to take it out. */
  slot: z.string().regex(/^(none|[a-z0-9-]+\/\d{4}-W\d{2})$/),
});

/** Puts one order where a person says: pinned there, so that a proposal leaves it. */
export async function moveInPlan(_: PlanState, form: FormData): Promise<PlanState> {
  const actor = await requireSignIn('/bay-plan');
  const parsed = move.safeParse(Object.fromEntries(form));
  if (!parsed.success) return problem('No week is chosen.', 'Choose a shed and week.');
  const { orderId, seenVersion, slot } = parsed.data;
  const { db } = await database();
  const input = { actor, orderId, seenVersion, now: new Date() };
  const [shedId = '', week = ''] = slot.split('/');
  if (slot !== 'none' && mondayOfIsoWeek(week) === null) {
    return problem(`There is no week ${week}.`, 'Choose another.');
  }
  try {
    const moved =
      slot === 'none'
        ? await takeOutOfPlan(db, input)
        : await placeWorkOrder(db, { ...input, shedId, week, isPinned: true });
    if (!moved.ok) {
      const { message, mend } = refusalWords[moved.error];
      return problem(message, mend);
    }
    revalidatePath('/bay-plan');
    const { number } = moved.value;
    return {
      problems: [],
      said: [
        slot === 'none'
          ? `Order ${number} is out of the plan.`
          : `Order ${number} is in ${week}, pinned.`,
      ],
    };
  } catch (error) {
    if (error instanceof AccessDenied) return problem(`${error.message}.`, 'Ask a fleet manager.');
    throw error;
  }
}

const percent = (share: number) => `${(100 * share).toFixed(1)}%`;

/** Places every order that is not pinned, and says what the plan costs against the simple one. */
export async function proposeForAll(): Promise<PlanState> {
  const actor = await requireSignIn('/bay-plan');
  const { db } = await database();
  const now = new Date();
  try {
    const plan = await bayPlan(db, actor, localDay(now, 'UTC'));
    const proposal = proposePlan(plan.input);
    const placements = plan.orders.flatMap((order) => {
      const slot = proposal.placement.get(order.id);
      const isFree = (order.state === 'raised' || order.state === 'placed') && !order.isPinned;
      const isSame =
        slot &&
        order.state === 'placed' &&
        slot.week === order.week &&
        slot.shedId === order.shedId;
      if (!slot || !isFree || isSame) return [];
      return [{ orderId: order.id, seenVersion: order.version, ...slot }];
    });
    if (placements.length > 0) {
      const placed = await placeProposal(db, { actor, placements, now });
      if (!placed.ok) {
        return problem(
          `Order ${placed.error.orderNumber ?? ''} was changed meanwhile. Nothing was placed.`,
          'Propose again.',
        );
      }
    }
    revalidatePath('/bay-plan');
    return {
      problems: [],
      said: [
        `${placements.length} orders placed or moved.`,
        `The plan weighs ${proposal.cost.toFixed(1)} bay hours; earliest due first would weigh ${proposal.earliestDueFirstCost.toFixed(1)}; no plan weighs less than ${proposal.bound.toFixed(1)}${proposal.gap === null ? '' : ` (${percent(proposal.gap)} above that)`}.`,
        ...proposal.notPlaced.map(({ text }) => text),
      ],
    };
  } catch (error) {
    if (error instanceof AccessDenied) return problem(`${error.message}.`, 'Ask a fleet manager.');
    throw error;
  }
}
