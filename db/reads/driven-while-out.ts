import { and, asc, eq, inArray } from 'drizzle-orm';
import { z } from 'zod';
import type { Kilometres } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { ledgerEntry, ledgerPayload, person } from '../schema';
import type { SpellRow } from './facts-of-spells';
import { nameAndBadge } from './name-and-badge';

type SpellOfUnit = Pick<SpellRow, 'id' | 'unitId'>;

const drivingNoted = z.object({
  spellId: z.string(),
  kilometres: z.number(),
  seenBy: z.string(),
});
const drivingAcknowledged = z.object({
  spellId: z.string(),
  drivenEntry: z.number(),
  note: z.string(),
});

/** Payloads of a kind that spells left on the ledger, oldest first. */
export async function notedInSpells<Payload extends { readonly spellId: string }>(
  db: Db | Tx,
  kind: string,
  shape: z.ZodType<Payload>,
  rows: readonly SpellOfUnit[],
): Promise<
  (Payload & { readonly entry: number; readonly at: Date; readonly by: string | null })[]
> {
  if (rows.length === 0) return [];
  const found = await db
    .select({
      entry: ledgerEntry.entry,
      at: ledgerEntry.at,
      by: nameAndBadge(person),
      canonical: ledgerPayload.canonical,
    })
    .from(ledgerEntry)
    .innerJoin(ledgerPayload, eq(ledgerPayload.entry, ledgerEntry.entry))
    .leftJoin(person, eq(person.id, ledgerEntry.personId))
    .where(
      and(
        eq(ledgerEntry.kind, kind),
        inArray(
          ledgerEntry.unitId,
          rows.map(({ unitId }) => unitId),
        ),
      ),
    )
    .orderBy(asc(ledgerEntry.entry));
  return found
    .map(({ canonical, ...entry }) => ({ ...shape.parse(JSON.parse(canonical)), ...entry }))
    .filter(({ spellId }) => rows.some(({ id }) => id === spellId));
}

export interface DrivenOut {
  readonly kilometres: Kilometres;
  /** `reading`, `amended reading`, `work order 1042`, `trip sheet`. */
  readonly seenBy: string;
  readonly entry: number;
  /** Who looked into it, and what came of it; null while it waits for a safety officer. */
  readonly acknowledged: {
    readonly by: string | null;
    readonly at: Date;
    readonly note: string;
  } | null;
}

/** Every note of driving in each spell, by its id, oldest first. */
export async function drivenWhileOutOf(
  db: Db | Tx,
  rows: readonly SpellOfUnit[],
): Promise<ReadonlyMap<string, readonly DrivenOut[]>> {
  const notes = await notedInSpells(db, 'driven while out of service', drivingNoted, rows);
  const answers = await notedInSpells(db, 'driving acknowledged', drivingAcknowledged, rows);
  const ofSpells = new Map<string, DrivenOut[]>();
  for (const { spellId, kilometres, seenBy, entry } of notes) {
    const answer = answers.find(({ drivenEntry }) => drivenEntry === entry);
    const acknowledged = answer ? { by: answer.by, at: answer.at, note: answer.note } : null;
    const earlier = ofSpells.get(spellId) ?? [];
    ofSpells.set(spellId, [...earlier, { kilometres, seenBy, entry, acknowledged }]);
  }
  return ofSpells;
}
