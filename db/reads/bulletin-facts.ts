import { and, asc, desc, eq, is, isNull, SQL } from 'drizzle-orm';
import { parts } from '@/lib/analysis/reading';
import { type BulletinFacts, type FactName, isBuildFact } from '@/lib/bulletins/unit-facts';
import { dayFromIso } from '@/lib/calendar';
import { isAnyOf } from '../any-of';
import type { Db, Tx } from '../client';
import { amendment, fitment, reading, unit } from '../schema';
import type { AmendedValues } from '../schema/amendment';
import { buildsOfUnits } from './builds-of-units';

interface Wanted {
  /** Units by id or by a condition on `unit`; every unit where they are left out. */
  readonly units?: readonly string[] | SQL | undefined;
  /** Facts that will be asked for; others are not read and seem not on record. All where left out. */
  readonly asked?: readonly FactName[];
}

const isPartFact = (fact: FactName) => parts.some((part) => fact.startsWith(`${part} `));

/** What is on record about each unit, for the rules of bulletins. */
export async function bulletinFacts(
  db: Db | Tx,
  { units: among, asked }: Wanted = {},
): Promise<BulletinFacts[]> {
  const which = among && (is(among, SQL) ? among : isAnyOf(unit.id, among));
  const units = await buildsOfUnits(db, which, asked);
  const ids = which && units.map((one) => one.unit);
  const of = (column: typeof fitment.unitId | typeof reading.unitId) => ids && isAnyOf(column, ids);
  const isPartAsked = !asked || asked.some(isPartFact);
  const isReadingAsked = !asked || asked.some((fact) => !isPartFact(fact) && !isBuildFact(fact));
  const fittedOf = isPartAsked ? await fittedByUnit(db, of(fitment.unitId)) : null;
  const newestOf = isReadingAsked ? await newestByUnit(db, of(reading.unitId)) : null;
  return units.map((one) => ({
    ...one,
    fitted: fittedOf?.get(one.unit) ?? [],
    odometer: newestOf?.get(one.unit)?.odometer ?? null,
    newest: newestOf?.get(one.unit)?.newest ?? null,
  }));
}

async function fittedByUnit(db: Db | Tx, of: SQL | undefined) {
  const { unitId, part, revision, dateCode } = fitment;
  const rows = await db
    .select({ unitId, part, revision, dateCode })
    .from(fitment)
    .where(and(isNull(fitment.removedOn), of));
  const byUnit = new Map<string, BulletinFacts['fitted'][number][]>();
  for (const { unitId: on, ...fitted } of rows) {
    const before = byUnit.get(on);
    if (before) before.push(fitted);
    else byUnit.set(on, [fitted]);
  }
  return byUnit;
}

/** The newest reading of each unit, approved amendments applied. */
async function newestByUnit(db: Db | Tx, of: SQL | undefined) {
  const { id, unitId, readOn, line, recoveryS, idleVacuumKpa, lowestKpa, odometerKm } = reading;
  const rows = await db
    .selectDistinctOn([unitId], {
      id,
      unitId,
      readOn,
      line,
      recoveryS,
      idleVacuumKpa,
      lowestKpa,
      odometerKm,
    })
    .from(reading)
    .where(of)
    .orderBy(unitId, desc(readOn), desc(reading.entry));
  const approved = await db
    .select({ readingId: amendment.readingId, after: amendment.after })
    .from(amendment)
    .innerJoin(reading, eq(reading.id, amendment.readingId))
    .where(and(eq(amendment.state, 'approved'), of))
    .orderBy(asc(amendment.decidedAt));
  const amended = new Map<string, AmendedValues>();
  for (const { readingId, after } of approved) {
    amended.set(readingId, { ...amended.get(readingId), ...after });
  }
  return new Map(
    rows.map((row) => {
      const values = { ...row, ...amended.get(row.id) };
      const on = dayFromIso(row.readOn) ?? Number.NaN;
      const odometer = values.odometerKm === null ? null : { value: values.odometerKm, readOn: on };
      const newest = {
        readOn: on,
        line: values.line,
        recovery: values.recoveryS,
        idle: values.idleVacuumKpa,
        lowest: values.lowestKpa,
      };
      return [row.unitId, { odometer, newest }];
    }),
  );
}
