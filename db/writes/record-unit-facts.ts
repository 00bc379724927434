import { and, eq, isNull } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { isoFromDay } from '@/lib/calendar';
import type { UnitFactsRead } from '@/lib/intake/unit-facts-keyed';
import type { Json } from '@/lib/ledger/canonical-json';
import { failure, type Result, success } from '@/lib/result';
import type { Db, Tx } from '../client';
import { appendToLedger } from '../ledger';
import { judgeBulletinsOfUnits, type StatusChange } from '../record/judge-bulletins';
import { judgeUnit } from '../record/judge-unit';
import { fitment, unit } from '../schema';
import { inTransaction, lockUnit, sqlState } from '../transaction';

interface RecordUnitFacts {
  readonly actor: Actor;
  readonly unitId: string;
  readonly facts: UnitFactsRead;
  readonly now: Date;
}

type UnitColumns = Partial<typeof unit.$inferInsert>;

function columnsOf({ built, fitted: _, ...facts }: UnitFactsRead): UnitColumns {
  if (!built) return facts;
  const [year = 0, month = 0, day = 0] = isoFromDay(built.from).split('-').map(Number);
  return {
    ...facts,
    builtYear: year,
    builtMonth: built.precision === 'year' ? null : month,
    builtDay: built.precision === 'day' ? day : null,
  };
}

/** Writes what somebody read from plate, label or part, and judges the unit's bulletins and mark anew. */
export async function recordUnitFacts(
  db: Db,
  { actor, unitId, facts, now }: RecordUnitFacts,
): Promise<
  Result<
    { readonly statusChanges: readonly StatusChange[] },
    'unknown unit' | 'nothing given' | 'VIN of another unit'
  >
> {
  try {
    return await inTransaction(db, async (tx) => {
      const before = await lockUnit(tx, unitId);
      if (!before) return failure('unknown unit' as const);
      requirePermission(actor, 'record a unit fact', before.shedId);
      const given = columnsOf(facts);
      const names = (Object.keys(given) as (keyof typeof before)[]).filter(
        (name) => given[name] !== before[name],
      );
      const columns: UnitColumns = Object.fromEntries(names.map((name) => [name, given[name]]));
      if (names.length > 0) await tx.update(unit).set(columns).where(eq(unit.id, unitId));
      const parts = await storeParts(tx, unitId, facts.fitted);
      if (names.length + parts.length === 0) return failure('nothing given' as const);
      const asJson = (row: UnitColumns): Json =>
        Object.fromEntries(names.map((name) => [name, row[name] ?? null]));
      const payload = { before: asJson(before), after: asJson(columns), parts };
      await appendToLedger(tx, { kind: 'unit facts recorded', actor, now, unitId, payload });
      const because = 'unit facts recorded';
      const judge = { touched: 'any', isCorrection: true, because, actor, now } as const;
      const statusChanges = await judgeBulletinsOfUnits(tx, [unitId], judge);
      await judgeUnit(tx, { unitId, actor, now, because });
      return success({ statusChanges });
    });
  } catch (error) {
    if (sqlState(error) === '23505') return failure('VIN of another unit');
    throw error;
  }
}

/** The part fitted at present gains what was read; one that was never on record begins with it. */
async function storeParts(
  tx: Tx,
  unitId: string,
  fitted: UnitFactsRead['fitted'],
): Promise<Json[]> {
  const changes: Json[] = [];
  for (const { part, revision, dateCode } of fitted) {
    const which = and(
      eq(fitment.unitId, unitId),
      eq(fitment.part, part),
      isNull(fitment.removedOn),
    );
    const [old] = await tx.select().from(fitment).where(which);
    const read = {
      ...(revision && revision !== old?.revision && { revision }),
      ...(dateCode && dateCode !== old?.dateCode && { dateCode }),
    };
    if (Object.keys(read).length === 0) continue;
    if (old) await tx.update(fitment).set(read).where(which);
    else await tx.insert(fitment).values({ unitId, part, ...read });
    const before = old ? { revision: old.revision, dateCode: old.dateCode } : null;
    changes.push({ part, before, after: read });
  }
  return changes;
}
