import type { Actor } from '@/lib/access';

const ownReadingMs = 24 * 3_600_000;

/**
 * Whether a person whose role amends readings may amend this one: a technician one's own, within 24
 * hours of its receipt; others at any time.
 */
export const mayAmend = (
  actor: Pick<Actor, 'role' | 'personId'>,
  reading: { readonly technicianId: string | null; readonly receivedAt: Date },
  now: Date,
): boolean =>
  actor.role !== 'technician' ||
  (reading.technicianId === actor.personId &&
    now.getTime() - reading.receivedAt.getTime() <= ownReadingMs);
