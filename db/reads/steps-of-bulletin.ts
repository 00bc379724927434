import { and, asc, eq, gte, isNull, or, sql } from 'drizzle-orm';
import { alias } from 'drizzle-orm/pg-core';
import type { Db } from '../client';
import { bulletin, type bulletinUnit, ledgerEntry, ledgerPayload, person } from '../schema';

type Pair = Pick<
  typeof bulletinUnit.$inferSelect,
  'unitId' | 'bulletinId' | 'status' | 'statusAt' | 'statusReason' | 'fittedRevision'
>;

export interface BulletinStep {
  readonly at: Date;
  readonly by: string | null;
  readonly from: string | null;
  readonly to: string;
  readonly reason: string | null;
  readonly workOrder: number | null;
  readonly fittedRevision: string | null;
}

const byTheRecord = { workOrder: null, fittedRevision: null } as const;

/**
 * Every step of a bulletin on a unit, oldest first: what people did and what the record itself turned,
 * from the entry of the bulletin to the later issue that replaced it.
 */
export async function stepsOfBulletin(db: Db, pair: Pair): Promise<BulletinStep[]> {
  const { entered, replaced } = await issues(db, pair.bulletinId);
  const between = await onLedger(db, pair, entered.at);
  const begun = between[0] ? between[0].from : pair.status;
  const isReplaced = pair.status === 'superseded';
  const first =
    begun === null || begun === 'superseded'
      ? []
      : [{ ...byTheRecord, ...entered, from: null, to: begun, reason: 'bulletin entered' }];
  const steps = [...first, ...between];
  const last =
    isReplaced && replaced
      ? [{ ...byTheRecord, ...replaced, from: steps.at(-1)?.to ?? null, to: pair.status }]
      : [];
  return [...steps, ...last.map((step) => ({ ...step, reason: pair.statusReason }))];
}

/** Who entered the bulletin and the issue that replaced it, and when. */
async function issues(db: Db, bulletinId: string) {
  const [later, laterPerson] = [alias(bulletin, 'later'), alias(person, 'later_person')];
  const [row] = await db
    .select({
      entered: { at: bulletin.enteredAt, by: person.name },
      replaced: { at: later.enteredAt, by: laterPerson.name },
    })
    .from(bulletin)
    .leftJoin(person, eq(person.id, bulletin.enteredBy))
    .leftJoin(later, eq(later.supersedesId, bulletin.id))
    .leftJoin(laterPerson, eq(laterPerson.id, later.enteredBy))
    .where(eq(bulletin.id, bulletinId));
  if (!row) throw new Error('the bulletin is not on record');
  const { at, by } = row.replaced;
  return { entered: row.entered, replaced: at && { at, by } };
}

async function onLedger(db: Db, { unitId, bulletinId }: Pair, since: Date) {
  const { kind } = ledgerEntry;
  const isJudged = eq(kind, 'bulletins judged');
  const noted = await db
    .select({ kind, at: ledgerEntry.at, by: person.name, canonical: ledgerPayload.canonical })
    .from(ledgerEntry)
    .innerJoin(ledgerPayload, eq(ledgerPayload.entry, ledgerEntry.entry))
    .leftJoin(person, eq(person.id, ledgerEntry.personId))
    .where(
      and(
        gte(ledgerEntry.at, since),
        or(
          and(eq(ledgerEntry.unitId, unitId), or(isJudged, eq(kind, 'bulletin status'))),
          // Units judged together share an entry.
          and(
            isJudged,
            isNull(ledgerEntry.unitId),
            sql`strpos(${ledgerPayload.canonical}, ${JSON.stringify(unitId)}) > 0`,
          ),
        ),
      ),
    )
    .orderBy(asc(ledgerEntry.entry));
  return noted.flatMap(({ kind: of, at, by, canonical }): BulletinStep[] => {
    const payload = JSON.parse(canonical);
    const told: (Moved & { readonly unitId?: string })[] =
      of === 'bulletin status' ? [payload] : payload.changes;
    return told
      .filter((one) => one.bulletinId === bulletinId && (one.unitId ?? unitId) === unitId)
      .map(({ from, to, reason, workOrder = null, fittedRevision = null }) => ({
        ...{ at, by, from, to, workOrder, fittedRevision },
        reason: reason ?? payload.because,
      }));
  });
}

interface Moved extends Pick<BulletinStep, 'from' | 'to'> {
  readonly reason?: string;
  readonly workOrder?: number | null;
  readonly fittedRevision?: string | null;
  readonly bulletinId: string;
}
