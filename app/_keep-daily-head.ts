import type { Db } from '@/db/client';
import { checkLedger, type LedgerCheck } from '@/db/ledger';
import { isHeadKept, keepHead, keptHeads } from './_ledger-heads';

export interface LedgerAgainstHeads extends LedgerCheck {
  /** Heads of earlier days that the chain was held against. */
  readonly headsHeld: number;
  readonly spoiltHeads: readonly string[];
}

/** Walks the chain against every head kept elsewhere, and keeps today's where all is whole. */
export async function checkAgainstHeads(
  db: Db,
  folder: string,
  now: Date,
): Promise<LedgerAgainstHeads> {
  const { heads, spoilt } = keptHeads(folder);
  const check = await checkLedger(db, ...heads);
  const isWhole = check.faults.length === 0 && spoilt.length === 0;
  if (isWhole && check.head !== null) {
    keepHead(folder, { entry: check.entries, hash: check.head }, now);
  }
  return { ...check, headsHeld: heads.length, spoiltHeads: spoilt };
}

/**
 * Once a UTC day, for a timer or a queue: keeps the head of a whole ledger. Null where today's is
 * kept already; of a broken ledger none is kept, and its faults say why.
 */
export async function keepDailyHead(
  db: Db,
  folder: string,
  now: Date,
): Promise<LedgerAgainstHeads | null> {
  return isHeadKept(folder, now) ? null : checkAgainstHeads(db, folder, now);
}
