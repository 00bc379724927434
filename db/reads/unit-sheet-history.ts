import { desc, eq, sql } from 'drizzle-orm';
import type { Mark } from '@/lib/analysis/assessment';
import type { Db, Tx } from '../client';
import { ledgerEntry, person, verdict } from '../schema';

export interface HistoryEntry {
  readonly at: Date;
  readonly what: string;
  readonly by: string | null;
  /** Of the ledger; null for a change of mark, which the ledger may hold with others of that night. */
  readonly entry: number | null;
}

/** What happened to a unit, newest first. The caller has asked who may see it. */
export async function unitSheetHistory(
  db: Db | Tx,
  unitId: string,
  limit = 60,
): Promise<HistoryEntry[]> {
  const entries = await db
    .select({
      at: ledgerEntry.at,
      what: ledgerEntry.kind,
      by: person.name,
      entry: ledgerEntry.entry,
    })
    .from(ledgerEntry)
    .leftJoin(person, eq(person.id, ledgerEntry.personId))
    .where(eq(ledgerEntry.unitId, unitId))
    .orderBy(desc(ledgerEntry.entry))
    .limit(limit);
  const changes = await markChanges(db, unitId, limit);
  return [...entries.filter(({ what }) => what !== 'marks changed'), ...changes]
    .sort((a, b) => b.at.getTime() - a.at.getTime())
    .slice(0, limit);
}

async function markChanges(db: Db | Tx, unitId: string, limit: number): Promise<HistoryEntry[]> {
  const judged = db
    .select({
      mark: verdict.mark,
      why: verdict.why,
      judgedAt: verdict.judgedAt,
      before: sql<Mark | null>`lag(${verdict.mark}) over (order by ${verdict.judgedAt})`.as(
        'before',
      ),
    })
    .from(verdict)
    .where(eq(verdict.unitId, unitId))
    .as('judged');
  const rows = await db
    .select({ mark: judged.mark, why: judged.why, at: judged.judgedAt })
    .from(judged)
    .where(sql`${judged.mark} is distinct from ${judged.before}`)
    .orderBy(desc(judged.judgedAt))
    .limit(limit);
  return rows.map(({ at, mark, why }) => ({
    at,
    what: mark === null ? 'Out of use' : `${mark}: ${why}`,
    by: null,
    entry: null,
  }));
}
