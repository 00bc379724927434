import { inArray } from 'drizzle-orm';
import type { Db, Tx } from '../client';
import { person } from '../schema';

export interface PersonNamed {
  readonly name: string;
  readonly badge: string;
  readonly isOutsideCertifier: boolean;
}

/** Names and badges of people who signed something. */
export async function peopleById(
  db: Db | Tx,
  ids: readonly (string | null)[],
): Promise<Map<string, PersonNamed>> {
  const wanted = [...new Set(ids.filter((id) => id !== null))];
  if (wanted.length === 0) return new Map();
  const rows = await db
    .select({
      id: person.id,
      name: person.name,
      badge: person.badge,
      isOutsideCertifier: person.isOutsideCertifier,
    })
    .from(person)
    .where(inArray(person.id, wanted));
  return new Map(rows.map(({ id, ...named }) => [id, named]));
}
