import { hash } from 'node:crypto';
import { asc, desc, eq, gt, sql } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import { canonicalJson, type Json } from '@/lib/ledger/canonical-json';
import { type ChainFault, chainFault, chainPreimage, firstPreviousHash } from '@/lib/ledger/chain';
import type { Db, Tx } from './client';
import { ledgerEntry, ledgerPayload } from './schema';

export const sha256 = (text: string): string => hash('sha256', text);

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

export interface LedgerHead {
  readonly entry: number;
  readonly hash: string;
}

/** Entries that wait until their transaction has judged. */
const held = new WeakMap<Tx, LedgerNote[]>();

/**
 * Runs work that judges at length after its first entry: its entries are written together, in their
 * order, once `newestEntry` is asked for or the work is done. Other writers wait that much less.
 */
export async function holdingLedger<Value>(tx: Tx, work: () => Promise<Value>): Promise<Value> {
  held.set(tx, []);
  const value = await work();
  await writeHeld(tx);
  held.delete(tx);
  return value;
}

/** Appends in the caller's transaction. */
export async function appendToLedger(tx: Tx, ...notes: readonly LedgerNote[]): Promise<void> {
  const waiting = held.get(tx);
  if (waiting) waiting.push(...notes);
  else await write(tx, notes);
}

/** The same for who needs the number and hash of the entry. */
export async function appendToLedgerAtOnce(tx: Tx, note: LedgerNote): Promise<LedgerHead> {
  await writeHeld(tx);
  return write(tx, [note]);
}

/** Number of the newest entry, with those of this transaction; 0 before the first. */
export const newestEntry = async (tx: Tx): Promise<number> =>
  (await writeHeld(tx))?.entry ?? (await headOf(tx))?.entry ?? 0;

const writeHeld = async (tx: Tx): Promise<LedgerHead | null> => {
  const notes = held.get(tx)?.splice(0) ?? [];
  return notes.length > 0 ? write(tx, notes) : null;
};

async function headOf(tx: Tx): Promise<LedgerHead | undefined> {
  const [last] = await tx
    .select({ entry: ledgerEntry.entry, hash: ledgerEntry.hash })
    .from(ledgerEntry)
    .orderBy(desc(ledgerEntry.entry))
    .limit(1);
  return last;
}

async function write(tx: Tx, notes: readonly LedgerNote[]): Promise<LedgerHead> {
  await tx.execute(sql`select pg_advisory_xact_lock(${ledgerLock})`);
  let head = (await headOf(tx)) ?? { entry: 0, hash: firstPreviousHash };
  const entries: (typeof ledgerEntry.$inferInsert)[] = [];
  const payloads: (typeof ledgerPayload.$inferInsert)[] = [];
  for (const { kind, actor, now, deviceAt, unitId, payload } of notes) {
    const canonical = canonicalJson(payload);
    const row = {
      entry: head.entry + 1,
      at: now.toISOString(),
      deviceAt: deviceAt?.toISOString() ?? null,
      personId: actor?.personId ?? null,
      kind,
      unitId: unitId ?? null,
      payloadDigest: sha256(canonical),
      previousHash: head.hash,
    };
    head = { entry: row.entry, hash: sha256(chainPreimage(row)) };
    entries.push({ ...row, at: now, deviceAt: deviceAt ?? null, hash: head.hash });
    payloads.push({ entry: row.entry, canonical });
  }
  await tx.insert(ledgerEntry).values(entries);
  await tx.insert(ledgerPayload).values(payloads);
  return head;
}

/** Kind of the entries that tell of a purge, and how many payloads one says it took. */
export const purgeKind = 'records purged';

const payloadsPurged = (canonical: string): number =>
  Number(JSON.parse(canonical)?.counts?.payloads ?? 0);

export interface LedgerCheck {
  readonly entries: number;
  readonly head: string | null;
  readonly faults: readonly ChainFault[];
  /** Entries whose payload is gone. */
  readonly purged: number;
}

/** Hashed times end in milliseconds; the database could hold microseconds that no hash covers. */
const isWholeTime = sql<boolean>`date_trunc('milliseconds', ${ledgerEntry.at}) = ${ledgerEntry.at}
  and date_trunc('milliseconds', ${ledgerEntry.deviceAt}) is not distinct from ${ledgerEntry.deviceAt}`;

/** Walks the whole chain. Heads kept elsewhere find a cut tail, and a chain written anew. */
export async function checkLedger(
  db: Db | Tx,
  ...keptHeads: readonly LedgerHead[]
): Promise<LedgerCheck> {
  const faults: ChainFault[] = [];
  const expected = new Map(keptHeads.map(({ entry, hash }) => [entry, hash]));
  let before = null as LedgerHead | null;
  let lastPurged = 0;
  let purged = 0;
  let purgedByPolicy = 0;
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
      const kept = expected.get(entry.entry) ?? entry.hash;
      if (fault) faults.push(fault);
      else if (!isWholeTime) faults.push({ entry: entry.entry, fault: 'hash differs' });
      else if (kept !== entry.hash) faults.push({ entry: entry.entry, fault: 'kept head differs' });
      expected.delete(entry.entry);
      if (canonical === null) {
        purged += 1;
        lastPurged = entry.entry;
      } else if (entry.kind === purgeKind && !fault) {
        purgedByPolicy += payloadsPurged(canonical);
      }
      before = { entry: entry.entry, hash: entry.hash };
    }
    if (rows.length < 5_000) break;
  }
  for (const entry of [...expected.keys()].sort((a, b) => a - b)) {
    faults.push({ entry, fault: 'entry missing' });
  }
  if (purged > purgedByPolicy) faults.push({ entry: lastPurged, fault: 'payload missing' });
  return { entries: before?.entry ?? 0, head: before?.hash ?? null, faults, purged };
}
