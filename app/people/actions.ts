'use server';

import { refresh } from 'next/cache';
import { z } from 'zod';
import { unlessDenied } from '@/app/_denied';
import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { changePerson, type PersonRefusal } from '@/db/writes/change-person';
import { type CodeMade, invitePerson } from '@/db/writes/invite-person';
import { issueResetCode } from '@/db/writes/issue-reset-code';
import { setPersonActive } from '@/db/writes/set-person-active';
import { personDetails, placeInFleet } from '@/lib/people/person-details';
import type { Result } from '@/lib/result';
import type { PeopleFormState } from './form-state';

const refused = (field: string, message: string, mend: string): PeopleFormState => ({
  problems: [{ field, message, mend }],
  said: null,
  code: null,
});

const fieldsOf = (data: FormData, ...names: string[]) => ({
  ...Object.fromEntries(names.map((name) => [name, data.get(name)])),
  shedIds: data.getAll('shedIds'),
});

const unfit = ({ issues }: z.ZodError, suffix = ''): PeopleFormState => ({
  problems: issues.map(({ path, message }) => ({
    field: `${String(path[0] ?? 'name')}${suffix}`,
    message,
    mend: 'Put it right and send again.',
  })),
  said: null,
  code: null,
});

const orDenied = (field: string, act: () => Promise<PeopleFormState>) =>
  unlessDenied(act, (why) => refused(field, why, 'Ask an admin.'));

function told({ code, expiresAt }: CodeMade, who: string): PeopleFormState {
  const until = `${expiresAt.toISOString().slice(0, 16).replace('T', ' ')} UTC`;
  return {
    problems: [],
    said: `Hand ${who} this code yourself. It works once, until ${until}, and is not shown again.`,
    code,
  };
}

export async function inviteAction(_: PeopleFormState, data: FormData): Promise<PeopleFormState> {
  const actor = await requireSignIn('/people');
  const parsed = personDetails.safeParse({
    ...fieldsOf(data, 'name', 'email', 'badge', 'role'),
    isOutsideCertifier: data.get('isOutsideCertifier') === 'yes',
  });
  if (!parsed.success) return unfit(parsed.error);
  return orDenied('name', async () => {
    const { db } = await database();
    const made = await invitePerson(db, { actor, details: parsed.data, now: new Date() });
    if (!made.ok) return { problems: made.error, said: null, code: null };
    refresh();
    return told(made.value, parsed.data.name);
  });
}

const refusals: Record<PersonRefusal | 'barred', readonly [string, string]> = {
  yourself: ['Nobody changes themselves.', 'Ask another admin.'],
  'no such person': ['That person is not on record.', 'Load the page again.'],
  'unknown shed': ['One of the sheds is not on record.', 'Load the page again.'],
  barred: ['That person is barred.', 'Let them in again first.'],
};

const whom = z.object({
  personId: z
    .string()
    .min(1)
    .max(64)
    .refine((id) => !id.includes('\0')),
  act: z.enum(['change', 'bar', 'let in', 'reset']),
});

export async function changeAction(_: PeopleFormState, data: FormData): Promise<PeopleFormState> {
  const actor = await requireSignIn('/people');
  const asked = whom.safeParse({ personId: data.get('personId'), act: data.get('act') });
  if (!asked.success) return refused('name', 'The form is not whole.', 'Load the page again.');
  const { personId, act } = asked.data;
  const field = `role-${personId}`;
  const answer = <Value>(
    result: Result<Value, PersonRefusal | 'barred'>,
    said: (value: Value) => PeopleFormState,
  ): PeopleFormState => {
    if (!result.ok) return refused(field, ...refusals[result.error]);
    refresh();
    return said(result.value);
  };
  const done = (said: string) => () => ({ problems: [], said, code: null });
  return orDenied(field, async () => {
    const { db } = await database();
    const input = { actor, personId, now: new Date() };
    if (act === 'reset') {
      return answer(await issueResetCode(db, input), (made) => told(made, 'them'));
    }
    if (act !== 'change') {
      const isActive = act === 'let in';
      const set = await setPersonActive(db, { ...input, isActive });
      return answer(set, done(isActive ? 'Let in again.' : 'Barred; every session has ended.'));
    }
    const place = placeInFleet.safeParse(fieldsOf(data, 'role'));
    if (!place.success) return unfit(place.error, `-${personId}`);
    const changed = await changePerson(db, { ...input, place: place.data });
    return answer(changed, done('Changed. It holds from the next request.'));
  });
}
