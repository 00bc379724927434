import { and, asc, eq, inArray, isNull } from 'drizzle-orm';
import { requirePermission } from '@/lib/access';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { BaySnapshot, BayUnit, ProofWanted } from '@/lib/bay-card/snapshot';
import { whyInBay } from '@/lib/bay-card/why-in-bay';
import { localDay } from '@/lib/calendar';
import type { Db, Tx } from '../client';
import { gauge, shed, spell, unit, verdict, workOrder } from '../schema';
import type { SignedInPerson } from './actor-of-person';
import { assessmentInputs, type InputOnRecord } from './assessment-inputs';
import { clockOfPerson } from './clock-of-person';
import { fleetPriorInForce } from './fleet-prior-in-force';
import { limitsInForce } from './limits-in-force';
import { unitsSeenBy } from './units-seen-by';

/** States in which an order may bring its unit into the bay. */
export const ordersAtWork = ['placed', 'begun', 'waiting', 'finished'] as const;

/** What a device keeps to judge the person's units without signal. Units gone from the fleet stay out. */
export async function baySnapshot(
  db: Db | Tx,
  actor: SignedInPerson,
  now: Date,
): Promise<BaySnapshot> {
  requirePermission(actor, 'record a reading');
  const seen = await db
    .select({ id: unit.id })
    .from(unit)
    .where(and(unitsSeenBy(actor), isNull(unit.leftFleetOn)));
  const ids = seen.map(({ id }) => id);
  const sheds = await db.select().from(shed).orderBy(asc(shed.name));
  const own = sheds.filter(({ id }) => actor.shedIds.length === 0 || actor.shedIds.includes(id));
  const gauges = await db.select().from(gauge).where(isNull(gauge.retiredOn)).orderBy(gauge.label);
  const { prior, kilometresADay } = await fleetPriorInForce(db);
  const today = localDay(now, await clockOfPerson(db, actor));
  const reasons = await reasonsInBay(db, ids);
  const inputs = ids.length === 0 ? [] : await assessmentInputs(db, ids, now);
  return {
    version: 1,
    heardAt: now.toISOString(),
    person: {
      id: actor.personId,
      name: actor.name,
      badge: actor.badge,
      role: actor.role,
      pressureUnit: actor.pressureUnit,
      distanceUnit: actor.distanceUnit,
    },
    limits: await limitsInForce(db, today),
    prior,
    fleetBeltRate: kilometresADay,
    sheds: own.map(({ id, name, elevationM, timeZone }) => ({
      id,
      name,
      elevation: elevationM,
      timeZone,
    })),
    gauges: gauges
      .filter(({ shedId }) => own.some(({ id }) => id === shedId))
      .map(({ id, shedId, label, pressureUnit }) => ({ id, shedId, label, pressureUnit })),
    units: inputs.map((one) => bayUnitOf(one, reasons)).sort((a, b) => a.id.localeCompare(b.id)),
  };
}

/** `SUV, Marrow Pike 2021`. */
export const describedUnit = ({
  body,
  make,
  model,
  modelYear,
}: Pick<typeof unit.$inferSelect, 'body' | 'make' | 'model' | 'modelYear'>): string =>
  [body, [make, model, modelYear].filter(Boolean).join(' ')].filter(Boolean).join(', ');

interface ReasonsInBay {
  readonly orders: ReadonlyMap<string, { number: number; state: string; week: string | null }>;
  readonly spells: ReadonlyMap<string, { why: string; certifiedBy: string | null }>;
  readonly verdicts: ReadonlyMap<string, UnitAssessment>;
}

async function reasonsInBay(db: Db | Tx, ids: readonly string[]): Promise<ReasonsInBay> {
  if (ids.length === 0) return { orders: new Map(), spells: new Map(), verdicts: new Map() };
  const orders = await db
    .select()
    .from(workOrder)
    .where(and(inArray(workOrder.unitId, [...ids]), inArray(workOrder.state, ordersAtWork)))
    .orderBy(asc(workOrder.number));
  const spells = await db
    .select()
    .from(spell)
    .where(and(inArray(spell.unitId, [...ids]), isNull(spell.releasedAt)));
  const verdicts = await db
    .select({ unitId: verdict.unitId, assessment: verdict.assessment })
    .from(verdict)
    .where(and(inArray(verdict.unitId, [...ids]), eq(verdict.isCurrent, true)));
  return {
    orders: new Map(orders.map((row) => [row.unitId, row])),
    spells: new Map(spells.map((row) => [row.unitId, row])),
    verdicts: new Map(verdicts.map((row) => [row.unitId, row.assessment])),
  };
}

function bayUnitOf(found: InputOnRecord, { orders, spells, verdicts }: ReasonsInBay): BayUnit {
  const { limits, prior, fleetBeltRate, asOf, ...input } = found.input;
  const { id, shedId } = found.unit;
  const order = orders.get(id);
  const open = spells.get(id);
  const assessment = verdicts.get(id);
  const dueOn = assessment?.nextReadingDue ?? null;
  const proof: ProofWanted | null =
    order?.state === 'finished'
      ? { why: `Order ${order.number} is finished`, certifiedBy: open?.certifiedBy ?? null }
      : open
        ? { why: 'It is out of service', certifiedBy: open.certifiedBy }
        : null;
  return {
    id,
    shedId,
    described: describedUnit(found.unit),
    mark: assessment?.mark ?? null,
    expectedIdleSle: assessment?.idle.levelSle ?? null,
    lastReadOn: assessment?.latest?.readOn ?? null,
    dueOn,
    inBay: whyInBay(order, dueOn, asOf, found.unit.laidUpOn !== null),
    proof,
    input,
  };
}
