'use server';

import { refresh } from 'next/cache';
import { requireSignIn } from '@/app/_session';
import { type FormState, wrong } from '@/app/(safety-officer)/form-state';
import { database } from '@/db/handle';
import { recordUnitFacts } from '@/db/writes/record-unit-facts';
import { AccessDenied } from '@/lib/access';
import { localDay } from '@/lib/calendar';
import { unitFactsKeyed } from '@/lib/intake/unit-facts-keyed';
import { unitNumber } from '@/lib/plain-text';

type Refused = 'unknown unit' | 'nothing given' | 'VIN of another unit';

const refusals: Record<Refused, Parameters<typeof wrong>> = {
  'unknown unit': ['vin', 'The unit is not on record.', 'Open the list of units.'],
  'nothing given': ['vin', 'Nothing is given that differs.', 'Change a field.'],
  'VIN of another unit': ['vin', 'Another unit bears this VIN.', 'Read the plate again.'],
};

export async function recordFactsAction(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/effectivity');
  const keyed = (name: string) => {
    const value = data.get(name);
    return typeof value === 'string' ? value : '';
  };
  const now = new Date();
  const facts = unitFactsKeyed(keyed, localDay(now, 'UTC'));
  if (!facts.ok) return { problems: facts.error, said: null };
  const unitId = unitNumber.safeParse(keyed('unitId'));
  if (!unitId.success) return wrong(...refusals['unknown unit']);
  const { db } = await database();
  try {
    const recorded = await recordUnitFacts(db, {
      actor,
      unitId: unitId.data,
      facts: facts.value,
      now,
    });
    if (!recorded.ok) return wrong(...refusals[recorded.error]);
    refresh();
    const changes = recorded.value.statusChanges.map(
      ({ number, from, to }) => `${number}: ${from ?? 'not concerned'} to ${to}`,
    );
    const bulletins = changes.length > 0 ? ` Bulletins: ${changes.join('; ')}.` : '';
    return { problems: [], said: `On record.${bulletins}` };
  } catch (error) {
    if (!(error instanceof AccessDenied)) throw error;
    return wrong('vin', `${error.message}.`, 'Ask somebody whose role may.');
  }
}
