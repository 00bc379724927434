import 'server-only';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { limitsInForce } from '@/db/reads/limits-in-force';
import { type UnitOfRound, unitsToRead } from '@/db/reads/units-to-read';
import { localDay, mondayOf } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import { type RoundEntry, readingsRound } from '@/lib/planning/readings-round';

const weekCount = 13;

export interface Round {
  readonly today: DayNumber;
  readonly mondays: readonly DayNumber[];
  readonly entries: readonly (RoundEntry & {
    readonly of: UnitOfRound;
    /** Wanted before its interval has run out, for its risk. */
    readonly isEarly: boolean;
  })[];
}

/** The quarter's readings of the units that a person sees, spread over its weeks. */
export async function roundOf(person: SignedInPerson, shedId: string | null): Promise<Round> {
  const { db } = await database();
  const today = localDay(new Date(), await clockOfPerson(db, person));
  const { readingIntervalDays, readingGraceDays } = await limitsInForce(db, today);
  const firstMonday = mondayOf(today);
  const units = await unitsToRead(db, person, shedId);
  const byUnit = new Map(units.map((one) => [one.unit, one]));
  const entries = readingsRound(units, {
    firstMonday,
    weekCount,
    intervalDays: readingIntervalDays,
    graceDays: readingGraceDays,
  });
  return {
    today,
    mondays: Array.from({ length: weekCount }, (_, k) => firstMonday + 7 * k),
    entries: entries.flatMap((entry) => {
      const of = byUnit.get(entry.unit);
      if (!of) return [];
      const isEarly = entry.dueOn !== null && entry.monday + 6 < entry.dueOn;
      return { ...entry, of, isEarly };
    }),
  };
}
