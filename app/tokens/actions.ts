'use server';

import { refresh } from 'next/cache';
import { z } from 'zod';
import { unlessDenied } from '@/app/_denied';
import { requireSignIn } from '@/app/_session';
import type { PeopleFormState } from '@/app/people/form-state';
import { database } from '@/db/handle';
import { issueApiToken } from '@/db/writes/issue-api-token';
import { revokeApiToken } from '@/db/writes/revoke-api-token';
import { apiScopes } from '@/lib/api-scopes';

const refused = (field: string, message: string, mend: string): PeopleFormState => ({
  problems: [{ field, message, mend }],
  said: null,
  code: null,
});

const dayMs = 86_400_000;
const storable = z
  .string()
  .regex(/^[^\p{Cc}\p{Cs}]*$/u, 'It holds characters that cannot be shown.');

const asked = z.object({
  label: storable.trim().min(1, 'It is empty.').max(60, 'It is longer than 60 characters.'),
  personId: storable.min(1).max(64),
  scopes: z.array(z.enum(apiScopes)).min(1, 'No scope is chosen.'),
  days: z.coerce.number().int().min(1).max(730),
});

const orDenied = (act: () => Promise<PeopleFormState>) =>
  unlessDenied(act, (why) => refused('label', why, 'Ask an admin.'));

export async function issueAction(_: PeopleFormState, data: FormData): Promise<PeopleFormState> {
  const actor = await requireSignIn('/tokens');
  const parsed = asked.safeParse({
    label: data.get('label'),
    personId: data.get('personId'),
    scopes: data.getAll('scopes'),
    days: data.get('days'),
  });
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const field = String(issue?.path[0] ?? 'label');
    return refused(field, issue?.message ?? 'The form is not whole.', 'Put it right.');
  }
  return orDenied(async () => {
    const now = new Date();
    const { days, ...token } = parsed.data;
    const expiresAt = new Date(now.getTime() + days * dayMs);
    const { db } = await database();
    const issued = await issueApiToken(db, { actor, ...token, expiresAt, now });
    if (!issued.ok) return refused('personId', 'That person may not act.', 'Choose another.');
    refresh();
    const said = 'Copy the token now: it is not shown again, and nobody can look it up.';
    return { problems: [], said, code: issued.value };
  });
}

export async function revokeAction(_: PeopleFormState, data: FormData): Promise<PeopleFormState> {
  const actor = await requireSignIn('/tokens');
  const tokenId = z.uuid().safeParse(data.get('tokenId'));
  return orDenied(async () => {
    const { db } = await database();
    const isEnded =
      tokenId.success &&
      (await revokeApiToken(db, { actor, tokenId: tokenId.data, now: new Date() }));
    if (!isEnded) return refused('label', 'It was over already.', 'Load the page again.');
    refresh();
    return { problems: [], said: 'Revoked. It is refused from the next request.', code: null };
  });
}
