'use server';

import { requireSignIn } from '@/app/_session';
import { signInAgain } from '@/app/_sign-in-again';
import { database } from '@/db/handle';
import { type Purged, purgeRecords } from '@/db/writes/purge-records';
import { keyedNumber } from '@/lib/intake/keyed-number';
import { type FormState, wrong } from '../../form-state';

const amount = (count: number) => count.toLocaleString('en-US');

function countsInWords({ units, counts }: Purged): string {
  const { readings, verdicts, spells, orders, payloads } = counts;
  return `${amount(readings)} readings, ${amount(verdicts)} verdicts, ${amount(spells)} spells, ${amount(orders)} work orders and what ${amount(payloads)} ledger entries say; units concerned: ${amount(units)}`;
}

/** The first step: what would go. */
export async function countDue(_: FormState): Promise<FormState> {
  const actor = await requireSignIn('/limits/purge');
  const { db } = await database();
  const due = await purgeRecords(db, { actor, isDryRun: true, now: new Date() });
  return {
    problems: [],
    said: due.units === 0 ? 'Nothing is due.' : `Due: ${countsInWords(due)}.`,
  };
}

/** The second: takes it, where as many units are concerned as the person has seen. */
export async function purge(_: FormState, data: FormData): Promise<FormState> {
  const actor = await requireSignIn('/limits/purge');
  const units = keyedNumber(String(data.get('units') ?? '').replaceAll(',', ''), 'units');
  if (!units.ok || units.value < 1) {
    return wrong('units', 'No count of units is keyed.', 'Count what is due, and key its units.');
  }
  const again = await signInAgain(String(data.get('password') ?? ''));
  if (!again.ok) return { problems: [again.error], said: null };
  const { db } = await database();
  const asked = { actor, isDryRun: false, seenUnits: units.value, now: new Date() };
  const purged = await purgeRecords(db, asked);
  if (purged.entry === null) {
    return wrong('units', 'So many units are not concerned now.', 'Count what is due again.');
  }
  return { problems: [], said: `Purged: ${countsInWords(purged)}. Ledger entry ${purged.entry}.` };
}
