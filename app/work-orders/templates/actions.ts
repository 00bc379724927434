'use server';

import { revalidatePath } from 'next/cache';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { taskKinds } from '@/db/schema';
import { editTemplate } from '@/db/writes/edit-template';
import { AccessDenied } from '@/lib/access';
import { keyedNumber } from '@/lib/intake/keyed-number';
import { newtonMetresPerPoundFoot } from '@/lib/measure';
import { plainLine, plainText } from '@/lib/plain-text';
import { stepsOfLines } from '@/lib/work-orders/step-lines';

const asked = z.object({
  kind: z.enum(taskKinds),
  title: plainLine(120, 'Say what the task is.'),
  hours: z.string(),
  torque: z.string().trim(),
  tools: plainText(2_000),
  partNumbers: plainText(500),
  steps: plainText(8_000),
});

const linesOf = (text: string) =>
  text
    .split('\n')
    .map((line) => line.trim())
    .filter(Boolean);

/** A template's form names its fields by its kind, so that a problem links to the right one. */
export async function saveTemplate(_: FormState, form: FormData): Promise<FormState> {
  const actor = await requireSignIn('/work-orders/templates');
  const parsed = asked.safeParse(Object.fromEntries(form));
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    return wrong(
      `${String(issue?.path[0] ?? 'title')}-${String(form.get('kind'))}`,
      issue?.message ?? '',
      'Then save again.',
    );
  }
  const { kind, title, ...keyed } = parsed.data;
  const hours = keyedNumber(keyed.hours, `hours-${kind}`);
  if (!hours.ok) return { problems: [hours.error], said: null };
  if (hours.value < 0 || hours.value >= 200) {
    return wrong(`hours-${kind}`, 'Hours lie between 0 and 200.', 'Key them again.');
  }
  const torque = keyed.torque === '' ? null : keyedNumber(keyed.torque, `torque-${kind}`);
  if (torque && !torque.ok) return { problems: [torque.error], said: null };
  try {
    await editTemplate((await database()).db, {
      actor,
      template: {
        kind,
        title,
        hours: hours.value,
        tools: linesOf(keyed.tools),
        partNumbers: linesOf(keyed.partNumbers),
        steps: stepsOfLines(keyed.steps),
        torqueNm: torque ? torque.value * newtonMetresPerPoundFoot : null,
      },
      now: new Date(),
    });
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return wrong(`title-${kind}`, `${error.message}.`, 'Ask a fleet manager.');
  }
  revalidatePath('/work-orders/templates');
  return { problems: [], said: 'Saved. Orders raised from now on take it.' };
}
