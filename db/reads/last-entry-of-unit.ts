import { desc, eq } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import type { Db, Tx } from '../client';
import { ledgerEntry, unit } from '../schema';

export interface LastEntry {
  readonly entry: number;
  readonly hash: string;
  readonly previousHash: string;
}

/** The newest ledger entry about a unit. */
export async function lastEntryOfUnit(
  db: Db | Tx,
  actor: Actor,
  unitId: string,
): Promise<LastEntry | null> {
  const [place] = await db.select({ shedId: unit.shedId }).from(unit).where(eq(unit.id, unitId));
  requirePermission(actor, 'see units', place?.shedId);
  const [row] = await db
    .select({
      entry: ledgerEntry.entry,
      hash: ledgerEntry.hash,
      previousHash: ledgerEntry.previousHash,
    })
    .from(ledgerEntry)
    .where(eq(ledgerEntry.unitId, unitId))
    .orderBy(desc(ledgerEntry.entry))
    .limit(1);
  return row ?? null;
}
