'use server';

import { revalidatePath } from 'next/cache';
import { requireSignIn } from '@/app/_session';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { setPartStock } from '@/db/writes/set-part-stock';
import { AccessDenied } from '@/lib/access';
import { partStockKeyed } from '@/lib/intake/part-stock-keyed';

/** A form of the list names its fields by its part, so that a problem links to the right one. */
export async function setPartStockAction(_: FormState, form: FormData): Promise<FormState> {
  const actor = await requireSignIn('/parts');
  const keyed = Object.fromEntries(
    [...form].flatMap(([name, value]) => (typeof value === 'string' ? [[name, value]] : [])),
  );
  const onForm = (field: string) => `${field}${keyed.suffix ?? ''}`;
  const part = partStockKeyed(keyed);
  if (!part.ok) {
    const problems = part.error.map((problem) => ({ ...problem, field: onForm(problem.field) }));
    return { problems, said: null };
  }
  try {
    const { seen, ...values } = part.value;
    const { db } = await database();
    const set = await setPartStock(db, { actor, part: values, seen, now: new Date() });
    if (!set.ok) return wrong(onForm(set.error.field), set.error.message, set.error.mend);
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return wrong(onForm('inStock'), `${error.message}.`, 'Ask a fleet manager.');
  }
  revalidatePath('/parts');
  return { problems: [], said: 'On record.' };
}
