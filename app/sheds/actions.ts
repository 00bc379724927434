'use server';

import { refresh } from 'next/cache';
import type { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { sweepAfterwards } from '@/app/_sweep-afterwards';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { addGauge } from '@/db/writes/add-gauge';
import { keepShed } from '@/db/writes/keep-shed';
import { retireGauge } from '@/db/writes/retire-gauge';
import { gaugeDetails, shedDetails } from '@/lib/sheds/shed-details';

const unfit = ({ issues }: z.ZodError, suffix = ''): FormState => ({
  problems: issues.map(({ path, message }) => ({
    field: `${String(path[0] ?? 'name')}${suffix}`,
    message,
    mend: 'Put it right and send again.',
  })),
  said: null,
});

/** What React sends along is none of the form's fields. */
const fieldsOf = (data: FormData): Record<string, FormDataEntryValue> =>
  Object.fromEntries([...data].filter(([name]) => !name.startsWith('$') && name !== 'act'));

async function keep(data: FormData, isNew: boolean): Promise<FormState> {
  const actor = await requireSignIn('/sheds');
  const suffix = isNew ? '' : `-${data.get('shedId')}`;
  const parsed = shedDetails.safeParse(fieldsOf(data));
  if (!parsed.success) return unfit(parsed.error, suffix);
  const { db } = await database();
  const kept = await keepShed(db, { actor, details: parsed.data, isNew, now: new Date() });
  if (!kept.ok) {
    const problems = kept.error.map(({ field, ...said }) => ({ field: field + suffix, ...said }));
    return { problems, said: null };
  }
  const { toJudge } = kept.value;
  if (toJudge > 0) sweepAfterwards('a shed was changed');
  refresh();
  const judged = toJudge > 0 ? ` ${toJudge} units are being judged again.` : '';
  return { problems: [], said: isNew ? 'On record.' : `Changed.${judged}` };
}

export const addShed = async (_: FormState, data: FormData): Promise<FormState> => keep(data, true);

export const changeShed = async (_: FormState, data: FormData): Promise<FormState> =>
  keep(data, false);

export async function newGauge(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/sheds');
  const isLogging = data.get('isLogging') === 'yes';
  const parsed = gaugeDetails.safeParse({ ...fieldsOf(data), isLogging });
  if (!parsed.success) return unfit(parsed.error, '-gauge');
  const { db } = await database();
  const added = await addGauge(db, { actor, details: parsed.data, now: new Date() });
  if (!added.ok) {
    const problems = added.error.map(({ field, ...said }) => ({
      field: `${field}-gauge`,
      ...said,
    }));
    return { problems, said: null };
  }
  refresh();
  return { problems: [], said: 'On record.' };
}

export async function endGauge(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/sheds');
  const gaugeId = String(data.get('gaugeId'));
  const { db } = await database();
  const retired = await retireGauge(db, { actor, gaugeId, now: new Date() });
  if (!retired.ok) return wrong('gauges', 'No such gauge is in use.', 'Load the page again.');
  refresh();
  return { problems: [], said: 'Retired.' };
}
