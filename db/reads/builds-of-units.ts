import { asc, type SQL } from 'drizzle-orm';
import { buildDateFromParts } from '@/lib/bulletins/build-date';
import {
  type BuildFactName,
  type BulletinFacts,
  type FactName,
  isBuildFact,
  nothingOnRecord,
} from '@/lib/bulletins/unit-facts';
import type { Db, Tx } from '../client';
import { unit } from '../schema';

const { vin, isCheckDigitRequired, gvwrKg, make, model, modelYear, engine } = unit;
const { builtYear, builtMonth, builtDay } = unit;
const ofVin = { vin, isCheckDigitRequired, gvwrKg };

/** What each fact of the build is read from. */
const columnsOf = {
  make: { make },
  model: { model },
  'model year': { ...ofVin, modelYear },
  engine: { engine },
  plant: ofVin,
  'VIN sequence': ofVin,
  'build date': { builtYear, builtMonth, builtDay },
} satisfies Record<BuildFactName, object>;

const everyColumn = {
  id: unit.id,
  ...{ ...ofVin, make, model, modelYear, engine, builtYear, builtMonth, builtDay },
};
type BuildRow = Pick<typeof unit.$inferSelect, keyof typeof everyColumn>;

/** Without the columns that no fact asked for is read from: at 50,000 units they would be felt. */
function rows(
  db: Db | Tx,
  which: SQL | undefined,
  asked: readonly FactName[] | undefined,
): Promise<(Pick<BuildRow, 'id'> & Partial<BuildRow>)[]> {
  const columns = asked?.filter(isBuildFact).map((fact) => columnsOf[fact]);
  const some = columns ? Object.assign({ id: unit.id }, ...columns) : everyColumn;
  return db
    .select(some as typeof everyColumn)
    .from(unit)
    .where(which)
    .orderBy(asc(unit.id));
}

/** What is on record of the build of units, as far as it is asked for; nothing yet of parts and readings. */
export async function buildsOfUnits(
  db: Db | Tx,
  which: SQL | undefined,
  asked: readonly FactName[] | undefined,
): Promise<BulletinFacts[]> {
  const units = await rows(db, which, asked);
  return units.map(({ id, builtYear: year, builtMonth: month, builtDay: day, ...row }) => ({
    ...nothingOnRecord,
    ...row,
    unit: id,
    built: year ? buildDateFromParts(year, month ?? null, day ?? null) : null,
  }));
}
