import { createHash } from 'node:crypto';
import { asc, desc, eq, gt, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { canonicalJson, type Json } from '@/lib/ledger/canonical-json';
import { type ChainFault, chainFault, chainPreimage, firstPreviousHash } from '@/lib/ledger/chain';
import type { Db, Tx } from './client';
import { ledgerEntry, ledgerPayload } from './schema';

export const sha256 = (text: string): string =>
  createHash('sha256').update(text, 'utf8').digest('hex');

/** Taken last in every write, so that the chain has one order and writers cannot deadlock on it. */
const ledgerLock = 74_120_312;

export interface LedgerNote {
  readonly kind: string;
  readonly actor: Actor | null;
  readonly now: Date;
  readonly deviceAt?: Date | null;
  readonly unitId?: string | null;
  readonly payload: Json;
}

/** Appends in the caller's transaction and returns the entry number and hash. */
export async function appendToLedger(
  tx: Tx,
  note: LedgerNote,
): Promise<{ entry: number; hash: string }> {
  await tx.execute(sql`select pg_advisory_xact_lock(${ledgerLock})`);
  const [last] = await tx
    .select({ entry: ledgerEntry.entry, hash: ledgerEntry.hash })
    .from(ledgerEntry)
    .orderBy(desc(ledgerEntry.entry))
    .limit(1);
  const canonical = canonicalJson(note.payload);
  const row = {
    entry: (last?.entry ?? 0) + 1,
    at: note.now.toISOString(),
    deviceAt: note.deviceAt?.toISOString() ?? null,
    personId: note.actor?.personId ?? null,
    kind: note.kind,
    unitId: note.unitId ?? null,
    payloadDigest: sha256(canonical),
    previousHash: last?.hash ?? firstPreviousHash,
  };
  const hash = sha256(chainPreimage(row));
  await tx
    .insert(ledgerEntry)
    .values({ ...row, at: note.now, deviceAt: note.deviceAt ?? null, hash });
  await tx.insert(ledgerPayload).values({ entry: row.entry, canonical });
  return { entry: row.entry, hash };
}

export interface LedgerCheck {
  readonly entries: number;
  readonly head: string | null;
  readonly faults: readonly ChainFault[];
}

/** Hashed times end in milliseconds; the database could hold microseconds that no hash covers. */
const isWholeTime = sql<boolean>`date_trunc('milliseconds', ${ledgerEntry.at}) = ${ledgerEntry.at}
  and date_trunc('milliseconds', ${ledgerEntry.deviceAt}) is not distinct from ${ledgerEntry.deviceAt}`;

/** Walks the whole chain. `expectedHead`, kept elsewhere, finds a cut tail or a rewritten chain. */
export async function checkLedger(
  db: Db | Tx,
  expectedHead?: { readonly entry: number; readonly hash: string },
): Promise<LedgerCheck> {
  const faults: ChainFault[] = [];
  let before = null as { entry: number; hash: string } | null;
  let sawExpected = expectedHead === undefined;
  for (;;) {
    const rows = await db
      .select({ entry: ledgerEntry, canonical: ledgerPayload.canonical, isWholeTime })
      .from(ledgerEntry)
      .leftJoin(ledgerPayload, eq(ledgerPayload.entry, ledgerEntry.entry))
      .where(gt(ledgerEntry.entry, before?.entry ?? 0))
      .orderBy(asc(ledgerEntry.entry))
      .limit(5_000);
    for (const { entry, canonical, isWholeTime } of rows) {
      const chained = {
        ...entry,
        at: entry.at.toISOString(),
        deviceAt: entry.deviceAt?.toISOString() ?? null,
      };
      const fault = chainFault(chained, before, canonical, sha256);
      if (fault) faults.push(fault);
      else if (!isWholeTime) faults.push({ entry: entry.entry, fault: 'hash differs' });
      if (entry.entry === expectedHead?.entry) sawExpected = entry.hash === expectedHead.hash;
      before = { entry: entry.entry, hash: entry.hash };
    }
    if (rows.length < 5_000) break;
  }
  if (!sawExpected && expectedHead) {
    const isCut = (before?.entry ?? 0) < expectedHead.entry;
    faults.push({
      entry: expectedHead.entry,
      fault: isCut ? 'entry missing' : 'hash differs',
    });
  }
  return { entries: before?.entry ?? 0, head: before?.hash ?? null, faults };
}
