import type { PersonNamed } from '@/db/reads/people-by-id';

/** `Tal Venn, T-12`; the machine where nobody signed. */
export function named(people: ReadonlyMap<string, PersonNamed>, id: string | null): string {
  const person = id === null ? undefined : people.get(id);
  return person ? `${person.name}, ${person.badge}` : 'nobody on record';
}

export const daysWords = (days: number): string => (days === 1 ? '1 day' : `${days} days`);
