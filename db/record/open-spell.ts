import { sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
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
  const { openedBy, now, ...facts } = opening;
  const [opened] = await tx
    .insert(spell)
    .values({ ...facts, openedBy: openedBy?.personId ?? null, openedAt: now })
    .onConflictDoNothing({ target: spell.unitId, where: sql`released_at is null` })
    .returning({ spellId: spell.id });
  if (!opened) return 'already open';
  await appendToLedger(tx, {
    kind: 'spell opened',
    actor: openedBy,
    now,
    unitId: opening.unitId,
    payload: {
      spellId: opened.spellId,
      cause: opening.cause,
      why: opening.why,
      note: opening.note ?? null,
      readingId: opening.readingId ?? null,
      bulletinId: opening.bulletinId ?? null,
      wasWarned: opening.wasWarned,
    },
  });
  return opened;
}
