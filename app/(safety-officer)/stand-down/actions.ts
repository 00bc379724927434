'use server';

import { refresh } from 'next/cache';
import { redirect } from 'next/navigation';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import { signInAgain } from '@/app/_sign-in-again';
import { database } from '@/db/handle';
import { acceptClock } from '@/db/writes/accept-clock';
import { acknowledgeDriving } from '@/db/writes/acknowledge-driving';
import { acknowledgeEvidence } from '@/db/writes/acknowledge-evidence';
import { certifyRepair } from '@/db/writes/certify-repair';
import { decideAmendment } from '@/db/writes/decide-amendment';
import { hangTag } from '@/db/writes/hang-tag';
import { noteOdometer } from '@/db/writes/note-odometer';
import { releaseUnit } from '@/db/writes/release-unit';
import { standDown } from '@/db/writes/stand-down';
import { keyedNumber } from '@/lib/intake/keyed-number';
import { distanceUnits, toKilometres } from '@/lib/measure';
import { plainText, unitNumber as unitId } from '@/lib/plain-text';
import type { Result } from '@/lib/result';
import { handCauses } from '@/lib/stand-down/hand-causes';
import { odometerSources } from '@/lib/stand-down/odometer-sources';
import { type Refusal, refusalWords } from '@/lib/stand-down/refusals';
import { certificateKinds } from '@/lib/stand-down/spell-facts';
import { type FormState, wrong } from '../form-state';

const words = plainText(2_000);

const mendWords: Record<string, string> = {
  unitId: "Key the unit's number as on its tag.",
  cause: 'Choose a cause.',
  whatWasChecked: 'Say what you checked, in 2,000 characters at most.',
  password: 'Key your password.',
  hasSeen: 'Read the proof reading and see the tag come off first.',
};

const unfit = (error: z.ZodError): FormState => ({
  problems: error.issues.map(({ path }) => {
    const field = String(path[0]);
    return {
      field,
      message: 'This is not filled in, or cannot be read.',
      mend: mendWords[field] ?? 'Fill it in.',
    };
  }),
  said: null,
});

function answer(
  result: Result<unknown, Refusal>,
  field: string,
  said: string,
  mend = 'See what blocks the return.',
): FormState {
  if (!result.ok) return wrong(field, refusalWords[result.error], mend);
  refresh();
  return { problems: [], said };
}

const standing = z.object({ unitId, cause: z.enum(handCauses), note: words });

export async function standUnitDown(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/stand-down/new');
  const form = standing.safeParse(Object.fromEntries(data));
  if (!form.success) return unfit(form.error);
  const { db } = await database();
  const { note, ...asked } = form.data;
  const stood = await standDown(db, { actor, ...asked, note: note || null, now: new Date() });
  if (!stood.ok) {
    return stood.error === 'unknown unit'
      ? wrong(
          'unitId',
          `No unit ${asked.unitId} is on record.`,
          "Key the number on the unit's tag.",
        )
      : wrong('unitId', `Unit ${asked.unitId} is out of service already.`, 'See it on the board.');
  }
  redirect(`/stand-down?unit=${encodeURIComponent(asked.unitId)}`);
}

export async function confirmTag(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/stand-down');
  const form = z.object({ unitId }).safeParse(Object.fromEntries(data));
  if (!form.success) return unfit(form.error);
  const { db } = await database();
  return answer(
    await hangTag(db, { actor, unitId: form.data.unitId, now: new Date() }),
    'tag',
    'The stop tag is on record.',
  );
}

const sighting = z.object({
  unitId,
  odometer: z.string().max(20),
  distanceUnit: z.enum(distanceUnits),
  seenOn: z.enum(odometerSources),
});

export async function keepOdometer(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/stand-down');
  const form = sighting.safeParse(Object.fromEntries(data));
  if (!form.success) return unfit(form.error);
  const { odometer: text, distanceUnit, ...asked } = form.data;
  const keyed = keyedNumber(text, 'odometer');
  if (!keyed.ok) return { problems: [keyed.error], said: null };
  const odometer = toKilometres(keyed.value, distanceUnit);
  if (odometer >= 10_000_000) {
    return wrong('odometer', 'No odometer shows so much.', 'Key the figure that it shows.');
  }
  const { db } = await database();
  return answer(
    await noteOdometer(db, { actor, ...asked, odometer, now: new Date() }),
    'odometer',
    'The odometer is on record.',
  );
}

const certificate = z.object({ unitId, kind: z.enum(certificateKinds), note: words });

export async function certify(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/stand-down');
  const form = certificate.safeParse(Object.fromEntries(data));
  if (!form.success) return unfit(form.error);
  const { db } = await database();
  return answer(
    await certifyRepair(db, { actor, ...form.data, now: new Date() }),
    'note',
    'Your certificate is on record.',
  );
}

const clock = z.object({ unitId, readingId: z.uuid(), reason: words.min(1) });

export async function letClockStand(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/stand-down');
  const form = clock.safeParse(Object.fromEntries(data));
  if (!form.success) return unfit(form.error);
  const { db } = await database();
  return answer(
    await acceptClock(db, { actor, ...form.data, now: new Date() }),
    'reason',
    'The reading may serve as proof.',
  );
}

const releasing = z.object({
  unitId,
  spellId: z.uuid(),
  whatWasChecked: words.min(1),
  hasSeen: z.literal('yes'),
  password: z.string().min(1).max(128),
});

export async function release(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/stand-down');
  const form = releasing.safeParse(Object.fromEntries(data));
  if (!form.success) return unfit(form.error);
  const { password, hasSeen, ...asked } = form.data;
  const again = await signInAgain(password);
  if (!again.ok) return { problems: [again.error], said: null };
  const { db } = await database();
  const released = await releaseUnit(db, {
    actor,
    ...asked,
    signedInAgainAt: again.value,
    now: new Date(),
  });
  if (!released.ok) {
    return wrong('whatWasChecked', refusalWords[released.error], 'See what blocks the return.');
  }
  redirect(`/stand-down?released=${encodeURIComponent(asked.unitId)}`);
}

const late = z.object({ spellId: z.uuid(), readingId: z.uuid() });

export async function acknowledge(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/stand-down');
  const form = late.safeParse(Object.fromEntries(data));
  if (!form.success) return unfit(form.error);
  const { db } = await database();
  return answer(
    await acknowledgeEvidence(db, { actor, ...form.data, now: new Date() }),
    'acknowledge',
    'Acknowledged.',
  );
}

const driven = z.object({
  spellId: z.uuid(),
  drivenEntry: z.coerce.number().int().positive(),
  note: words,
});

export async function acknowledgeDriven(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/stand-down');
  const form = driven.safeParse(Object.fromEntries(data));
  if (!form.success) return unfit(form.error);
  const { db } = await database();
  return answer(
    await acknowledgeDriving(db, { actor, ...form.data, now: new Date() }),
    `driven-${form.data.drivenEntry}`,
    'Acknowledged.',
    'Key a note, or look at the board again.',
  );
}

const decision = z.object({ amendmentId: z.uuid(), isApproved: z.enum(['yes', 'no']) });

export async function decide(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/stand-down');
  const form = decision.safeParse(Object.fromEntries(data));
  if (!form.success) return unfit(form.error);
  const { db } = await database();
  const isApproved = form.data.isApproved === 'yes';
  const decided = await decideAmendment(db, {
    actor,
    amendmentId: form.data.amendmentId,
    isApproved,
    now: new Date(),
  });
  if (!decided.ok) {
    return wrong('amendments', `Not taken: ${decided.error}.`, 'Look at the list again.');
  }
  refresh();
  return { problems: [], said: isApproved ? 'Approved.' : 'Refused.' };
}
