'use server';

import { revalidatePath } from 'next/cache';
import { z } from 'zod';
import { planElsewhere } from '@/app/_planner/plan-elsewhere';
import { requireSignIn } from '@/app/_session';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { bayPlan } from '@/db/reads/bay-plan';
import { type WorkWanted, workWanted } from '@/db/reads/work-wanted';
import { yardPage } from '@/db/reads/yard-page';
import type { OrderWanted } from '@/db/record/raise-orders';
import { placeOrders } from '@/db/writes/place-orders';
import { raiseWorkOrders } from '@/db/writes/raise-work-orders';
import { AccessDenied, type Actor, requirePermission } from '@/lib/access';
import { localDay } from '@/lib/calendar';
import { readYardQuery } from '@/lib/intake/yard-query';
import { unitNumber } from '@/lib/plain-text';
import { failure, type Result, success } from '@/lib/result';
import { tasksFor } from '@/lib/work-orders/tasks-for';
import { unitsAtMost } from './units-at-most';

/** Enough for orders among pinned ones. */
const moves = 400_000;

/** Raises an order for each, all or none, and gives each the week that a proposal finds; everything else stays. */
async function raiseAndPlace(actor: Actor, wanted: readonly OrderWanted[], now: Date) {
  const { db } = await database();
  const orders = await raiseWorkOrders(db, { actor, wanted, now });
  if (!orders.ok) return orders;
  const raised = new Map(orders.value.map(({ id, version }) => [id, version]));
  const plan = await bayPlan(db, actor, localDay(now, 'UTC'));
  const jobs = plan.input.jobs.flatMap((job) => {
    if (raised.has(job.id)) return [job];
    const pinned = plan.placement.get(job.id);
    return pinned ? [{ ...job, pinned }] : [];
  });
  const input = { ...plan.input, jobs };
  const { placement } = await planElsewhere({ ask: 'propose', input, moves });
  const placements = [...raised].flatMap(([orderId, seenVersion]) => {
    const to = placement.get(orderId) ?? null;
    return to ? [{ orderId, seenVersion, to, isPinned: false, overfilledWhy: null }] : [];
  });
  const placed =
    placements.length > 0
      ? await placeOrders(db, { actor, placements, because: 'proposal', now })
      : null;
  revalidatePath('/yard');
  return success({ raised: raised.size, placed: placed?.ok ? placements.length : 0 });
}

const workOf = ({ unitId, why, rule, cause, isServed }: WorkWanted): OrderWanted | null => {
  const taskKinds = isServed ? null : tasksFor(rule, cause);
  const raisedFrom = rule.includes('belt') ? 'belt' : 'verdict';
  return taskKinds && { unitId, why, raisedFrom, taskKinds };
};

const readingOf = ({ unitId }: WorkWanted): OrderWanted => ({
  unitId,
  why: 'Reading scheduled',
  raisedFrom: 'by hand',
  taskKinds: ['reading'],
});

/** The ticked units or, with `list`, all of the list as it was counted on the page. */
async function unitsMeant(
  actor: Actor,
  form: FormData,
): Promise<Result<readonly string[], FormState>> {
  const list = form.get('list');
  if (list === null) {
    const units = z.array(unitNumber).min(1).max(unitsAtMost).safeParse(form.getAll('unit'));
    return units.success
      ? success(units.data)
      : failure(
          wrong('chosen', 'No unit is chosen.', `Tick at least one, and at most ${unitsAtMost}.`),
        );
  }
  const counted = Number(form.get('counted'));
  if (form.get('sure') !== 'yes') {
    const mend = `Tick the box if you mean all ${counted} units.`;
    return failure(wrong('sure', 'This is not confirmed.', mend));
  }
  const query = readYardQuery(new URLSearchParams(String(list)));
  const place = { after: null, skip: 0, limit: unitsAtMost + 1 };
  const { unitIds } = await yardPage((await database()).db, actor, query, place);
  return unitIds.length === counted && counted <= unitsAtMost
    ? success(unitIds)
    : failure(
        wrong(
          'sure',
          `The list has changed since it was counted: it holds ${unitIds.length} units now.`,
          'Load the page again, and look at the list.',
        ),
      );
}

/** Places the units' work in the plan, or schedules a reading of each. */
export async function actOnUnits(_: FormState, form: FormData): Promise<FormState> {
  const actor = await requireSignIn('/yard');
  const now = new Date();
  try {
    requirePermission(actor, 'plan');
    const units = await unitsMeant(actor, form);
    if (!units.ok) return units.error;
    const found = await workWanted((await database()).db, actor, units.value);
    const wanted =
      form.get('act') === 'read'
        ? found.filter(({ isToBeRead }) => !isToBeRead).map(readingOf)
        : found.flatMap((each) => workOf(each) ?? []);
    const done = await raiseAndPlace(actor, wanted, now);
    if (!done.ok) {
      const mend = 'No order was raised. Load the page again; see the job templates.';
      return wrong('chosen', `The orders cannot be raised: ${done.error}.`, mend);
    }
    const { raised, placed } = done.value;
    const left = units.value.length - wanted.length;
    return {
      problems: [],
      said: [
        `${raised} orders raised, ${placed} of them placed.`,
        raised > placed && 'The rest found no week: see the bay plan.',
        left > 0 && `${left} left alone: an open order serves it, or a bulletin says what to do.`,
      ]
        .filter(Boolean)
        .join(' '),
    };
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return wrong('chosen', `${error.message}.`, 'Ask a fleet manager.');
  }
}
