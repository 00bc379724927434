'use server';

import { refresh } from 'next/cache';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { inspectBulletin } from '@/db/writes/inspect-bulletin';
import { refuseBulletin } from '@/db/writes/refuse-bulletin';
import { AccessDenied } from '@/lib/access';
import { plainText, unitNumber } from '@/lib/plain-text';
import type { Problem, Result } from '@/lib/result';

const words = plainText(1_000);
const pair = z.object({ unitId: unitNumber, bulletinId: z.uuid() });
const inspection = pair.extend({ finding: words });
const refusal = pair.extend({ reason: words.min(1), reviewOn: z.iso.date() });
const missing: Readonly<Record<string, Omit<Problem, 'field'>>> = {
  reason: { message: 'No reason that can be read is given.', mend: 'Say why it is refused.' },
  reviewOn: { message: 'No day to look at it again is given.', mend: 'Choose one after today.' },
};

/** A refused step points at the field that can mend it. */
async function answer(
  step: Promise<Result<string, Problem>>,
  field: string,
  said: string,
): Promise<FormState> {
  try {
    const moved = await step;
    if (!moved.ok) {
      const { field: asked, message, mend } = moved.error;
      return wrong(asked === 'status' ? field : asked, `Not taken: ${message}.`, mend);
    }
    refresh();
    return { problems: [], said };
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return wrong(field, `${error.message}.`, 'Ask somebody whose role may.');
  }
}

export async function inspectAction(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/effectivity');
  const form = inspection.safeParse(Object.fromEntries(data));
  if (!form.success) return wrong('finding', 'This cannot be read.', 'Say what was seen.');
  const { db } = await database();
  const step = inspectBulletin(db, { actor, ...form.data, now: new Date() });
  return answer(step, 'finding', 'On record.');
}

export async function refuseAction(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/effectivity');
  const form = refusal.safeParse(Object.fromEntries(data));
  if (!form.success) {
    const problems = form.error.issues.flatMap(({ path: [field] }) => {
      const problem = missing[String(field)];
      return problem ? [{ field: String(field), ...problem }] : [];
    });
    return problems.length > 0
      ? { problems, said: null }
      : wrong('reason', 'This cannot be read.', 'Load the page again.');
  }
  const { db } = await database();
  const step = refuseBulletin(db, { actor, ...form.data, now: new Date() });
  return answer(step, 'reason', 'On record.');
}
