'use server';

import { refresh } from 'next/cache';
import { z } from 'zod';
import { requireSignIn } from '@/app/_session';
import type { FormState } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { amendReading } from '@/db/writes/amend-reading';
import { lineStates, pedalStates } from '@/lib/analysis/reading';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import { pressureUnits } from '@/lib/measure';
import { plainText } from '@/lib/plain-text';

const form = z.object({
  readingId: z.uuid(),
  amendmentId: z.uuid(),
  idle: z.string().max(40),
  lowest: z.string().max(40),
  recovery: z.string().max(40),
  holdLoss: z.string().max(40),
  odometer: z.string().max(40),
  line: z.enum(['', ...lineStates]),
  pedal: z.enum(['', ...pedalStates]),
  pressureUnit: z.enum(pressureUnits),
  reason: plainText(500).min(1),
});

/** Corrects a reading; what is left empty keeps its value. */
export async function amend(_: FormState, data: FormData): Promise<FormState> {
  const person = await requireSignIn('/bay');
  const parsed = form.safeParse(Object.fromEntries(data));
  if (!parsed.success) {
    const mend = 'Choose why, and key the values that were wrong.';
    return { problems: [{ field: 'reason', message: 'The form is not whole.', mend }], said: null };
  }
  const { readingId, amendmentId, line, pedal, pressureUnit, reason, ...figures } = parsed.data;
  const unitOf = {
    idle: pressureUnit,
    lowest: pressureUnit,
    recovery: 's',
    holdLoss: pressureUnit,
    odometer: person.distanceUnit,
  };
  const keyed = Object.fromEntries(
    Object.entries(figures)
      .filter(([, value]) => value.trim() !== '')
      .map(([field, value]) => [field, { value, unit: unitOf[field as keyof typeof unitOf] }]),
  ) as ReadingPayload['keyed'];
  const amended = await amendReading((await database()).db, {
    actor: person,
    amendmentId,
    readingId,
    keyed,
    seen: { ...(line && { line }), ...(pedal && { pedal }) },
    reason,
    now: new Date(),
  });
  if (!amended.ok) return { problems: amended.error, said: null };
  refresh();
  return {
    problems: [],
    said:
      amended.value.state === 'approved'
        ? 'Amended. The first values stay on record beside these.'
        : `Asked. A safety officer decides: ${amended.value.because.join(' ')}`,
  };
}
