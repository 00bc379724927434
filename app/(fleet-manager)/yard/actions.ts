'use server';

import { revalidatePath } from 'next/cache';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { removeView } from '@/db/writes/remove-view';
import { saveView } from '@/db/writes/save-view';
import type { Problem } from '@/lib/result';

const storable = z.string().regex(/^[^\0]*$/);
const asked = z.object({
  name: storable.trim().min(1).max(60),
  address: storable.max(1000),
});

/** Null when it was kept. */
export async function keepView(name: string, address: string): Promise<Problem | null> {
  const actor = await requireSignIn('/yard');
  const parsed = asked.safeParse({ name, address });
  if (!parsed.success) {
    return {
      field: 'view-name',
      message: 'This name cannot be kept.',
      mend: 'Key 1 to 60 characters.',
    };
  }
  const { db } = await database();
  const kept = await saveView(db, { actor, ...parsed.data, now: new Date() });
  if (!kept.ok) return kept.error[0] ?? null;
  revalidatePath('/yard');
  return null;
}

export async function dropView(viewId: string): Promise<void> {
  const actor = await requireSignIn('/yard');
  if (!z.uuid().safeParse(viewId).success) return;
  await removeView((await database()).db, { actor, viewId, now: new Date() });
  revalidatePath('/yard');
}
