'use server';

import { refresh } from 'next/cache';
import { redirect } from 'next/navigation';
import { after } from 'next/server';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { database } from '@/db/handle';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { limitsInForce } from '@/db/reads/limits-in-force';
import { judgeFleet } from '@/db/record/judge-fleet';
import { decideLimits } from '@/db/writes/decide-limits';
import { decideRetention } from '@/db/writes/decide-retention';
import { decideSmallShop } from '@/db/writes/decide-small-shop';
import { proposeLimits } from '@/db/writes/propose-limits';
import { proposeRetention } from '@/db/writes/propose-retention';
import { isoFromDay, localDay } from '@/lib/calendar';
import { limitValues } from '@/lib/intake/limit-values';
import { plainText } from '@/lib/plain-text';
import { retentionKeyed } from '@/lib/retention/retention-policy';
import { type FormState, wrong } from '../form-state';

const words = plainText(2_000).min(1);
const about = z.object({ effectiveFrom: z.iso.date(), source: words, reason: words });

const mendWords: Record<string, string> = {
  effectiveFrom: 'Choose the day from which the set counts.',
  source: 'Say where the figures come from, or “own choice”.',
  reason: 'Say why the set changes.',
};

export async function propose(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/limits/propose');
  const keyed = Object.fromEntries(data);
  const form = about.safeParse(keyed);
  const { db } = await database();
  const today = localDay(new Date(), await clockOfPerson(db, actor));
  const { version, ...stored } = await limitsInForce(db, today);
  const values = limitValues(keyed, stored, {
    pressure: actor.pressureUnit,
    distance: actor.distanceUnit,
  });
  const unread = form.success
    ? []
    : form.error.issues.map(({ path }) => ({
        field: String(path[0]),
        message: 'This is not filled in, or cannot be read.',
        mend: mendWords[String(path[0])] ?? 'Fill it in.',
      }));
  if (!values.ok || !form.success) {
    return { problems: [...(values.ok ? [] : values.error), ...unread], said: null };
  }
  if (form.data.effectiveFrom < isoFromDay(today)) {
    return wrong(
      'effectiveFrom',
      'A set cannot count from a day gone by.',
      `Choose ${isoFromDay(today)} or later.`,
    );
  }
  const proposed = await proposeLimits(db, {
    actor,
    values: values.value,
    ...form.data,
    now: new Date(),
  });
  if (!proposed.ok) {
    return wrong('effectiveFrom', 'One set is proposed already.', 'Have it decided first.');
  }
  redirect('/limits');
}

const decision = z.object({
  version: z.coerce.number().int().positive(),
  isApproved: z.enum(['yes', 'no']),
});

export async function decide(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/limits');
  const form = decision.safeParse(Object.fromEntries(data));
  if (!form.success) return wrong('proposed', 'This cannot be read.', 'Open the page again.');
  const { db } = await database();
  const isApproved = form.data.isApproved === 'yes';
  const now = new Date();
  const decided = await decideLimits(db, { actor, version: form.data.version, isApproved, now });
  if (!decided.ok) return wrong('proposed', `Not taken: ${decided.error}.`, 'Open the page again.');
  if (isApproved) {
    after(() => judgeFleet(db, { actor, now: new Date(), because: 'limits changed' }));
  }
  refresh();
  return { problems: [], said: isApproved ? 'Approved. The fleet is being judged.' : 'Refused.' };
}

export async function decideRule(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/limits');
  const { db } = await database();
  const isApproved = data.get('isApproved') === 'yes';
  const decided = await decideSmallShop(db, { actor, isApproved, now: new Date() });
  if (!decided.ok)
    return wrong('small-shop', `Not taken: ${decided.error}.`, 'Open the page again.');
  refresh();
  return { problems: [], said: isApproved ? 'Approved.' : 'Refused.' };
}

export async function proposePeriods(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/limits');
  const keyed = Object.fromEntries([...data].map(([name, value]) => [name, String(value)]));
  const policy = retentionKeyed(keyed);
  const why = words.safeParse(keyed.why);
  if (!policy.ok) return { problems: policy.error, said: null };
  if (!why.success) return wrong('why', 'No reason is given.', 'Say why the periods change.');
  const { db } = await database();
  await proposeRetention(db, { actor, policy: policy.value, why: why.data, now: new Date() });
  refresh();
  return { problems: [], said: 'Proposed. A safety officer decides.' };
}

export async function decidePeriods(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/limits');
  const { db } = await database();
  const isApproved = data.get('isApproved') === 'yes';
  const decided = await decideRetention(db, { actor, isApproved, now: new Date() });
  if (!decided.ok)
    return wrong('retention', `Not taken: ${decided.error}.`, 'Open the page again.');
  refresh();
  return { problems: [], said: isApproved ? 'Approved.' : 'Refused.' };
}
