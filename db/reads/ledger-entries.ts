import { and, asc, count, desc, eq, gte, inArray, lt, type SQL, sql } from 'drizzle-orm';
import { type Actor, permissionOf, requirePermission } from '@/lib/access';
import type { Db, Tx } from '../client';
import { ledgerEntry, ledgerPayload, person, unit } from '../schema';

export interface LedgerQuery {
  readonly entry?: number;
  readonly unitId?: string;
  readonly personId?: string;
  readonly kind?: string;
  readonly from?: Date;
  /** Not included. */
  readonly until?: Date;
}

export interface LedgerRow {
  readonly entry: number;
  readonly at: Date;
  readonly deviceAt: Date | null;
  readonly who: string | null;
  readonly kind: string;
  readonly unitId: string | null;
  readonly payloadDigest: string;
  readonly hash: string;
  readonly previousHash: string;
  /** Canonical JSON; null where policy has purged it. */
  readonly canonical: string | null;
}

/** A technician sees the entries of units of the own sheds, everyone else with the right sees all. */
function seenBy(db: Db | Tx, actor: Actor): SQL | undefined {
  requirePermission(actor, 'see the ledger');
  if (permissionOf(actor.role, 'see the ledger') === 'yes') return undefined;
  const own = db
    .select({ id: unit.id })
    .from(unit)
    .where(actor.shedIds.length > 0 ? inArray(unit.shedId, [...actor.shedIds]) : sql`false`);
  return inArray(ledgerEntry.unitId, own);
}

function matching(db: Db | Tx, actor: Actor, query: LedgerQuery): SQL | undefined {
  const { entry, unitId, personId, kind, from, until } = query;
  return and(
    seenBy(db, actor),
    entry === undefined ? undefined : eq(ledgerEntry.entry, entry),
    unitId === undefined ? undefined : eq(ledgerEntry.unitId, unitId),
    personId === undefined ? undefined : eq(ledgerEntry.personId, personId),
    kind === undefined ? undefined : eq(ledgerEntry.kind, kind),
    from === undefined ? undefined : gte(ledgerEntry.at, from),
    until === undefined ? undefined : lt(ledgerEntry.at, until),
  );
}

/** Entries that a query finds, newest first. */
export async function ledgerEntries(
  db: Db | Tx,
  actor: Actor,
  query: LedgerQuery,
  { limit, offset }: { readonly limit: number; readonly offset: number },
): Promise<readonly LedgerRow[]> {
  return db
    .select({
      entry: ledgerEntry.entry,
      at: ledgerEntry.at,
      deviceAt: ledgerEntry.deviceAt,
      who: person.name,
      kind: ledgerEntry.kind,
      unitId: ledgerEntry.unitId,
      payloadDigest: ledgerEntry.payloadDigest,
      hash: ledgerEntry.hash,
      previousHash: ledgerEntry.previousHash,
      canonical: ledgerPayload.canonical,
    })
    .from(ledgerEntry)
    .leftJoin(ledgerPayload, eq(ledgerPayload.entry, ledgerEntry.entry))
    .leftJoin(person, eq(person.id, ledgerEntry.personId))
    .where(matching(db, actor, query))
    .orderBy(desc(ledgerEntry.entry))
    .limit(limit)
    .offset(offset);
}

export async function countLedgerEntries(
  db: Db | Tx,
  actor: Actor,
  query: LedgerQuery,
): Promise<number> {
  const [row] = await db
    .select({ entries: count() })
    .from(ledgerEntry)
    .where(matching(db, actor, query));
  return row?.entries ?? 0;
}

/** What the filters offer: kinds of entry and people who made any. */
export async function ledgerChoices(db: Db | Tx, actor: Actor) {
  requirePermission(actor, 'see the ledger');
  const kinds = await db
    .selectDistinct({ kind: ledgerEntry.kind })
    .from(ledgerEntry)
    .orderBy(asc(ledgerEntry.kind));
  const people = await db
    .selectDistinct({ id: person.id, name: person.name })
    .from(ledgerEntry)
    .innerJoin(person, eq(person.id, ledgerEntry.personId))
    .orderBy(asc(person.name));
  return { kinds: kinds.map(({ kind }) => kind), people };
}
