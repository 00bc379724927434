import 'server-only';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { type ForecastRecord, forecastRecord } from '@/db/reads/forecast-record';
import { permissionOf } from '@/lib/access';
import type { DayNumber } from '@/lib/measure';

let kept: { readonly key: string; readonly record: Promise<ForecastRecord> } | null = null;

/** The record of a day is worked out once: it takes seconds, and a day's readings hardly move it. */
export async function forecastRecordOfDay(
  person: SignedInPerson,
  today: DayNumber,
): Promise<ForecastRecord> {
  const seesAll = permissionOf(person.role, 'see units') === 'yes';
  const key = `${today} ${seesAll ? 'all' : person.shedIds.join()}`;
  if (kept?.key === key) return kept.record;
  const { db } = await database();
  const record = forecastRecord(db, person, today);
  kept = { key, record };
  // A failure is not kept: the next person asks again.
  record.catch(() => {
    kept = null;
  });
  return record;
}
