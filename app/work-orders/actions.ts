'use server';

import { revalidatePath } from 'next/cache';
import { redirect } from 'next/navigation';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import type { Order, OrderRefusal } from '@/db/record/change-order';
import { taskKinds } from '@/db/schema';
import { finishWorkOrder } from '@/db/writes/finish-work-order';
import {
  beginWorkOrder,
  goOnWithWorkOrder,
  letWorkOrderWait,
  takeOutOfPlan,
  withdrawWorkOrder,
} from '@/db/writes/move-work-order';
import { raiseWorkOrder } from '@/db/writes/raise-work-order';
import { AccessDenied } from '@/lib/access';
import { causes } from '@/lib/analysis/assessment';
import { parts, removalReasons } from '@/lib/analysis/reading';
import { keyedNumber } from '@/lib/intake/keyed-number';
import { distanceUnits, toKilometres } from '@/lib/measure';
import { plainText, unitNumber } from '@/lib/plain-text';
import type { Problem, Result } from '@/lib/result';
import { refusalWords } from './words';

export interface OrderFormState {
  readonly problems: readonly Problem[];
}

const problem = (field: string, message: string, mend: string): OrderFormState => ({
  problems: [{ field, message, mend }],
});

const seenOrder = z.object({
  orderId: z.uuid(),
  seenVersion: z.coerce.number().int().min(1),
  move: z.enum(['begin', 'wait', 'go on', 'take out of the plan', 'withdraw']),
  reason: plainText(500).default(''),
  until: z.union([z.literal(''), z.iso.date()]).default(''),
});

export async function moveOrderAction(_: OrderFormState, form: FormData): Promise<OrderFormState> {
  const actor = await requireSignIn('/work-orders');
  const parsed = seenOrder.safeParse(Object.fromEntries(form));
  if (!parsed.success) return problem('reason', 'The form is not whole.', 'Load the page again.');
  const { orderId, seenVersion, move, reason, until } = parsed.data;
  if ((move === 'wait' || move === 'withdraw') && reason === '') {
    return problem(
      'reason',
      'The reason is missing.',
      move === 'wait' ? 'Say what it waits for.' : 'Say why it is withdrawn.',
    );
  }
  const { db } = await database();
  const input = { actor, orderId, seenVersion, now: new Date() };
  const moves = {
    begin: () => beginWorkOrder(db, input),
    wait: () => letWorkOrderWait(db, { ...input, waitingFor: reason, waitingUntil: until || null }),
    'go on': () => goOnWithWorkOrder(db, input),
    'take out of the plan': () => takeOutOfPlan(db, input),
    withdraw: () => withdrawWorkOrder(db, { ...input, why: reason }),
  };
  return answer(moves[move]());
}

async function answer(result: Promise<Result<Order, OrderRefusal>>): Promise<OrderFormState> {
  try {
    const moved = await result;
    if (!moved.ok) {
      const { message, mend } = refusalWords[moved.error];
      return problem('reason', message, mend);
    }
    revalidatePath(`/work-orders/${moved.value.number}`);
    return { problems: [] };
  } catch (error) {
    if (error instanceof AccessDenied) {
      return problem('reason', `${error.message}.`, 'Ask somebody whose role may.');
    }
    throw error;
  }
}

const raise = z.object({
  unitId: unitNumber,
  why: plainText(300).min(1, 'Say why.'),
  kinds: z.array(z.enum(taskKinds)),
});

export async function raiseOrderAction(_: OrderFormState, form: FormData): Promise<OrderFormState> {
  const actor = await requireSignIn('/work-orders');
  const parsed = raise.safeParse({
    unitId: form.get('unitId'),
    why: form.get('why'),
    kinds: form.getAll('kinds'),
  });
  if (!parsed.success) {
    return {
      problems: parsed.error.issues.map((issue) => ({
        field: String(issue.path[0] ?? 'unitId'),
        message: issue.message,
        mend: '',
      })),
    };
  }
  const { unitId, why, kinds } = parsed.data;
  const { db } = await database();
  let number: number;
  try {
    const raised = await raiseWorkOrder(db, {
      actor,
      unitId,
      why,
      raisedFrom: 'by hand',
      taskKinds: kinds,
      now: new Date(),
    });
    if (!raised.ok) {
      return raised.error === 'unknown unit'
        ? problem('unitId', `Unit ${unitId} is not on record.`, 'Check the number on its tag.')
        : problem(
            'task-pump',
            'No task is chosen, or one has no template.',
            'Choose at least one task.',
          );
    }
    number = raised.value.number;
  } catch (error) {
    if (error instanceof AccessDenied) {
      return problem('unitId', `${error.message} in that shed.`, 'Ask somebody whose role may.');
    }
    throw error;
  }
  redirect(`/work-orders/${number}`);
}

const finish = z.object({
  orderId: z.uuid(),
  seenVersion: z.coerce.number().int().min(1),
  foundCause: z.enum(causes, { error: 'Choose the cause that was found.' }),
  odometer: z.string().trim(),
  odometerUnit: z.enum(distanceUnits),
});

/** Tasks come as `task:ID` done or struck with `why:ID`; parts as `revision:PART` and `dateCode:PART`. */
export async function finishOrderAction(
  _: OrderFormState,
  form: FormData,
): Promise<OrderFormState> {
  const actor = await requireSignIn('/work-orders');
  const parsed = finish.safeParse(Object.fromEntries(form));
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    return problem(
      String(issue?.path[0] ?? 'foundCause'),
      issue?.message ?? '',
      'Then finish again.',
    );
  }
  const { orderId, seenVersion, foundCause, odometer, odometerUnit } = parsed.data;
  const distance = odometer === '' ? null : keyedNumber(odometer, 'odometer');
  if (distance && !distance.ok) return { problems: [distance.error] };
  const text = (name: string) => String(form.get(name) ?? '').trim();
  const tasks = [...form.keys()]
    .filter((name) => name.startsWith('task:'))
    .map((name) => {
      const taskId = name.slice('task:'.length);
      const isStruck = form.get(name) === 'struck';
      return {
        taskId,
        state: isStruck ? ('struck' as const) : ('done' as const),
        struckWhy: isStruck ? text(`why:${taskId}`) : null,
      };
    });
  const unexplained = tasks.find(({ state, struckWhy }) => state === 'struck' && struckWhy === '');
  if (unexplained) {
    return problem(
      `why-${unexplained.taskId}`,
      'A struck task has no reason.',
      'Say why it was not done.',
    );
  }
  const fitted = parts
    .filter((part) => form.get(`fitted:${part}`) === 'yes')
    .map((part) => ({
      part,
      revision: text(`revision:${part}`) || null,
      dateCode: text(`dateCode:${part}`) || null,
      whyRemoved: z
        .enum(removalReasons)
        .catch('other')
        .parse(form.get(`removed:${part}`)),
    }));
  const { db } = await database();
  return answer(
    finishWorkOrder(db, {
      actor,
      orderId,
      seenVersion,
      tasks,
      fitted,
      foundCause,
      odometer: distance ? toKilometres(distance.value, odometerUnit) : null,
      now: new Date(),
    }),
  );
}
