'use server';

import { revalidatePath } from 'next/cache';
import { z } from 'zod';
import { unlessDenied } from '@/app/_denied';
import { requireSignIn } from '@/app/_session';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { setShedClosure } from '@/db/writes/set-shed-closure';
import { setUnitAbsence } from '@/db/writes/set-unit-absence';
import { mondayOfIsoWeek } from '@/lib/calendar';
import { keyedNumber } from '@/lib/intake/keyed-number';
import { plainLine, unitNumber } from '@/lib/plain-text';

const isoWeek = z
  .string()
  .refine((week) => mondayOfIsoWeek(week) !== null, 'Choose a week such as 2026-W05.');
const reason = plainLine(200, 'Say why.');

const firstWrong = ({ issues }: z.ZodError): FormState =>
  wrong(String(issues[0]?.path[0] ?? 'week'), issues[0]?.message ?? '', 'Then send again.');

const orDenied = (act: () => Promise<FormState>) =>
  unlessDenied(act, (why) => wrong('week', why, 'Ask a fleet manager.'));

const closure = z.object({
  shedId: plainLine(60, 'Choose a shed.'),
  week: isoWeek,
  hoursLost: z.string(),
  reason,
});

/** Takes bay hours from a week; 0 gives them back. */
export async function loseHours(_: FormState, form: FormData): Promise<FormState> {
  const actor = await requireSignIn('/bay-plan');
  const parsed = closure.safeParse(Object.fromEntries(form));
  if (!parsed.success) return firstWrong(parsed.error);
  const hours = keyedNumber(parsed.data.hoursLost, 'hoursLost');
  if (!hours.ok) return { problems: [hours.error], said: null };
  if (hours.value < 0 || hours.value > 1000) {
    return wrong('hoursLost', 'Hours lost lie between 0 and 1000.', 'Key them again.');
  }
  return orDenied(async () => {
    const { db } = await database();
    await setShedClosure(db, {
      actor,
      ...parsed.data,
      hoursLost: hours.value,
      now: new Date(),
    });
    revalidatePath('/bay-plan');
    return { problems: [], said: `${parsed.data.week}: ${hours.value} h lost.` };
  });
}

const absence = z.object({
  unitId: unitNumber,
  week: isoWeek,
  away: z.enum(['yes', 'no']),
  reason,
});

/** Notes a week in which a unit cannot come, or that it can after all. */
export async function noteAbsence(_: FormState, form: FormData): Promise<FormState> {
  const actor = await requireSignIn('/bay-plan');
  const parsed = absence.safeParse(Object.fromEntries(form));
  if (!parsed.success) return firstWrong(parsed.error);
  const { unitId, week, away, reason: why } = parsed.data;
  return orDenied(async () => {
    const { db } = await database();
    const now = new Date();
    const isAway = away === 'yes';
    const noted = await setUnitAbsence(db, { actor, unitId, week, isAway, reason: why, now });
    if (!noted.ok) return wrong('week', `Unit ${unitId} is not on record.`, 'Load the plan again.');
    revalidatePath('/bay-plan');
    return { problems: [], said: `${week}: ${isAway ? 'away' : 'not away'}.` };
  });
}
