import 'server-only';
import type { Db } from '@/db/client';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { permissionOf } from '@/lib/access';
import type { DayNumber } from '@/lib/measure';

/** What takes seconds to work out is worked out once a day: a day's readings hardly move it. */
export function keptForTheDay<Value>(
  workOut: (db: Db, person: SignedInPerson, today: DayNumber) => Promise<Value>,
) {
  let kept: { readonly key: string; readonly value: Promise<Value> } | null = null;
  return async (person: SignedInPerson, today: DayNumber): Promise<Value> => {
    const seesAll = permissionOf(person.role, 'see units') === 'yes';
    const key = `${today} ${seesAll ? 'all' : person.shedIds.join()}`;
    if (kept?.key === key) return kept.value;
    const { db } = await database();
    const value = workOut(db, person, today);
    kept = { key, value };
    // A failure is not kept: the next person asks again.
    value.catch(() => {
      kept = null;
    });
    return value;
  };
}
