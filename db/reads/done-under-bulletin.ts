import { and, desc, eq, inArray, sql } from 'drizzle-orm';
import type { Db } from '../client';
import { bulletin, ledgerEntry, ledgerPayload } from '../schema';

/**
 * When the work was done on each unit, by the ledger: under the bulletin, or under the earlier issues
 * whose work counts. A later issue takes every unit along, so that their status tells it no more. A unit
 * whose last step is another than done is left out.
 */
export async function doneUnderBulletin(
  db: Db,
  bulletinId: string,
): Promise<ReadonlyMap<string, Date>> {
  const issues = await issuesThatCount(db, bulletinId);
  const { kind, unitId, at, entry } = ledgerEntry;
  const { canonical } = ledgerPayload;
  const lastSteps = await db
    .selectDistinctOn([unitId], { unitId, at, to: sql<string>`${canonical}::jsonb ->> 'to'` })
    .from(ledgerEntry)
    .innerJoin(ledgerPayload, eq(ledgerPayload.entry, entry))
    .where(
      and(
        eq(kind, 'bulletin status'),
        inArray(sql`${canonical}::jsonb ->> 'bulletinId'`, [...issues]),
      ),
    )
    .orderBy(unitId, desc(entry));
  return new Map(
    lastSteps.flatMap((step) =>
      step.unitId !== null && step.to === 'done' ? [[step.unitId, step.at] as const] : [],
    ),
  );
}

async function issuesThatCount(db: Db, bulletinId: string): Promise<readonly string[]> {
  const [row] = await db
    .select({ earlier: bulletin.supersedesId, doesDoneCarry: bulletin.doesDoneCarry })
    .from(bulletin)
    .where(eq(bulletin.id, bulletinId));
  const counts = row?.doesDoneCarry ? row.earlier : null;
  return [bulletinId, ...(counts ? await issuesThatCount(db, counts) : [])];
}
