import { and, eq, isNotNull } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { placeLateReading } from '@/lib/stand-down/place-late-reading';
import { workFinishedAt } from '@/lib/stand-down/spell-standing';
import type { Tx } from '../client';
import { appendToLedger } from '../ledger';
import { factsOfSpells } from '../reads/facts-of-spells';
import { spell } from '../schema';

interface LateReading {
  readonly unitId: string;
  readonly readingId: string;
  readonly readAt: Date;
  readonly actor: Actor | null;
  readonly now: Date;
}

/**
 * Where a reading past a stop limit belongs. True when it told of a repair since made, and so joined
 * the ended spell as evidence; false when it opens a spell of its own. The unit is locked already.
 */
export async function joinLateReading(
  tx: Tx,
  { unitId, readingId, readAt, actor, now }: LateReading,
): Promise<boolean> {
  const rows = await tx
    .select()
    .from(spell)
    .where(and(eq(spell.unitId, unitId), isNotNull(spell.releasedAt)));
  const ended = (await factsOfSpells(tx, rows)).flatMap(({ row, facts }) => {
    const repairedAt = workFinishedAt(facts) ?? row.certifiedAt;
    if (!row.releasedAt || !repairedAt) return [];
    return [{ spellId: row.id, openedAt: row.openedAt, repairedAt, releasedAt: row.releasedAt }];
  });
  const place = placeLateReading(readAt, ended);
  if (place === 'opens a spell') return false;
  const joined = rows.find(({ id }) => id === place.joins);
  if (!joined || joined.evidence.some((one) => one.readingId === readingId)) return true;
  await tx
    .update(spell)
    .set({ evidence: [...joined.evidence, { readingId, acknowledgedBy: null }] })
    .where(eq(spell.id, joined.id));
  await appendToLedger(tx, {
    kind: 'late reading joined a spell',
    actor,
    now,
    unitId,
    payload: { spellId: joined.id, readingId },
  });
  return true;
}
