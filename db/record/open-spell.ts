import { sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Tx } from '../client';
import { appendToLedger, type LedgerNote } from '../ledger';
import { type SpellCause, spell } from '../schema';

export interface SpellOpening {
  readonly unitId: string;
  readonly cause: SpellCause;
  /** One sentence with the figures, as the board shows it. */
  readonly why: string;
  readonly note?: string | null;
  /** Null where a verdict opens it. */
  readonly openedBy: Actor | null;
  readonly readingId?: string | null;
  readonly bulletinId?: string | null;
  /** Whether the unit bore Book in or Drifting beforehand. */
  readonly wasWarned: boolean;
  readonly now: Date;
}

/** Opens a spell in the caller's transaction, unit locked; the index admits one open spell a unit. */
export async function openSpell(
  tx: Tx,
  opening: SpellOpening,
): Promise<{ readonly spellId: string } | 'already open'> {
  const [opened] = await openSpells(tx, [opening]);
  return opened ?? 'already open';
}

/** The same for many units; a unit that has an open spell is left out of the answer. */
export async function openSpells(
  tx: Tx,
  openings: readonly SpellOpening[],
): Promise<readonly { readonly unitId: string; readonly spellId: string }[]> {
  if (openings.length === 0) return [];
  const opened = await tx
    .insert(spell)
    .values(
      openings.map(({ openedBy, now, ...facts }) => ({
        ...facts,
        openedBy: openedBy?.personId ?? null,
        openedAt: now,
      })),
    )
    .onConflictDoNothing({ target: spell.unitId, where: sql`released_at is null` })
    .returning({ unitId: spell.unitId, spellId: spell.id });
  const openingOf = new Map(openings.map((opening) => [opening.unitId, opening]));
  const notes = opened.flatMap(({ unitId, spellId }) => {
    const opening = openingOf.get(unitId);
    return opening ? [noteOf(opening, spellId)] : [];
  });
  if (notes.length > 0) await appendToLedger(tx, ...notes);
  return opened;
}

const noteOf = (opening: SpellOpening, spellId: string): LedgerNote => ({
  kind: 'spell opened',
  actor: opening.openedBy,
  now: opening.now,
  unitId: opening.unitId,
  payload: {
    spellId,
    cause: opening.cause,
    why: opening.why,
    note: opening.note ?? null,
    readingId: opening.readingId ?? null,
    bulletinId: opening.bulletinId ?? null,
    wasWarned: opening.wasWarned,
  },
});
