import { asc } from 'drizzle-orm';
import type { Actor } from '@/lib/access';
import type { Fitment, Reading, UnitFacts } from '@/lib/analysis/reading';
import type { Db, Tx } from '../client';
import { shed, unit } from '../schema';
import { fitmentsOfUnits } from './fitments-of-units';
import { readingsOfUnits } from './readings-of-units';
import { unitsSeenBy } from './units-seen-by';

interface Sample {
  /** Of more units than this, so many are chosen evenly. */
  readonly most: number;
  /** Work on histories is work for the processor: other requests get in between so many units. */
  readonly atATime: number;
}

export interface History {
  readonly unit: UnitFacts;
  readonly readings: readonly Reading[];
  readonly fitments: readonly Fitment[];
}

export interface SampledHistories {
  readonly units: number;
  readonly unitsSampled: number;
  readonly histories: AsyncIterable<History>;
}

/** Histories of the units that a person sees. */
export async function sampledHistories(
  db: Db | Tx,
  actor: Actor,
  { most, atATime }: Sample,
): Promise<SampledHistories> {
  const units = await db
    .select({ id: unit.id, shedId: unit.shedId })
    .from(unit)
    .where(unitsSeenBy(actor))
    .orderBy(asc(unit.id));
  const stride = Math.max(1, units.length / most);
  const sample = Array.from(
    { length: Math.min(units.length, most) },
    (_, k) => units[Math.floor(k * stride)],
  ).filter((one) => one !== undefined);
  return {
    units: units.length,
    unitsSampled: sample.length,
    histories: historiesOf(db, sample, atATime),
  };
}

async function* historiesOf(
  db: Db | Tx,
  units: readonly { readonly id: string; readonly shedId: string }[],
  atATime: number,
): AsyncGenerator<History> {
  const sheds = await db.select({ id: shed.id, elevation: shed.elevationM }).from(shed);
  const elevations = new Map(sheds.map(({ id, elevation }) => [id, elevation]));
  for (let from = 0; from < units.length; from += atATime) {
    const some = units.slice(from, from + atATime);
    const ids = some.map(({ id }) => id);
    const readings = await readingsOfUnits(db, ids);
    const fitments = await fitmentsOfUnits(db, ids);
    for (const { id, shedId } of some) {
      yield {
        unit: {
          unit: id,
          elevation: elevations.get(shedId) ?? 0,
          builtOn: null,
          trackedFrom: null,
        },
        readings: readings.get(id) ?? [],
        fitments: fitments.get(id) ?? [],
      };
    }
  }
}
