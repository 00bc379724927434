import type { PersonNamed } from '@/db/reads/people-by-id';

/** `Tal Venn, T-12`, with `outside shop` where they certify for one. */
export function named(people: ReadonlyMap<string, PersonNamed>, id: string | null): string {
  const person = id === null ? undefined : people.get(id);
  if (!person) return 'nobody on record';
  return [person.name, person.badge, person.isOutsideCertifier && 'outside shop']
    .filter(Boolean)
    .join(', ');
}

export const daysWords = (days: number): string => (days === 1 ? '1 day' : `${days} days`);
