'use server';

import { refresh } from 'next/cache';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { counted } from '@/app/_ui/format';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { type ApprovalRefusal, approveBulletin } from '@/db/writes/approve-bulletin';
import { AccessDenied } from '@/lib/access';

const mend: Record<ApprovalRefusal, string> = {
  'no such bulletin': 'Open the list of bulletins again.',
  'not a do-not-drive bulletin': 'It needs no approval.',
  'approved already': 'Open the page again.',
  superseded: 'Approve the later issue.',
  'your own entry': 'Another safety officer approves it.',
  'changed since the preview': 'Open the page again and look at the units.',
};

const approval = z.object({ bulletinId: z.uuid(), seenDigest: z.string().max(64) });

export async function approveAction(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/effectivity');
  const form = approval.safeParse(Object.fromEntries(data));
  if (!form.success) return wrong('approval', 'This cannot be read.', 'Open the page again.');
  const { db } = await database();
  try {
    const approved = await approveBulletin(db, { actor, ...form.data, now: new Date() });
    if (!approved.ok) {
      return wrong('approval', `Not approved: ${approved.error}.`, mend[approved.error]);
    }
    refresh();
    return {
      problems: [],
      said: `Approved. ${counted(approved.value.stoodDown, 'unit', 'units')} stood down.`,
    };
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return wrong('approval', `${error.message}.`, 'Ask a safety officer.');
  }
}
