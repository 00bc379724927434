import { and, asc, count, eq, inArray, notInArray, sql } from 'drizzle-orm';
import type { Mark, Reason } from '@/lib/analysis/assessment';
import { type NextEdge, nextEdge } from '@/lib/analysis/next-edge';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { DayNumber, Kilopascals } from '@/lib/measure';
import type { WorkOrderState } from '@/lib/work-orders/move-order';
import type { Db, Tx } from '../client';
import { bulletinUnit, judgingDue, shed, unit, verdict, workOrder } from '../schema';
import { currentVerdict, markOnShow } from './yard-filter';

export interface YardRow {
  readonly unit: string;
  readonly shed: string;
  readonly build: string;
  readonly mark: Mark | null;
  /** An import or a bulletin has changed its record, and the mark does not know of it yet. */
  readonly isBeingJudged: boolean;
  /** Laid up and gone units bear no mark; null for a unit that was never judged. */
  readonly standing: UnitAssessment['standing'] | null;
  /** What names the mark; null for a unit that was never judged. */
  readonly reason: Reason | null;
  readonly asOf: DayNumber | null;
  /** As read, what the brakes have. */
  readonly idle: Kilopascals | null;
  readonly edge: NextEdge | null;
  readonly readOn: DayNumber | null;
  readonly readingDue: DayNumber | null;
  readonly bulletinsOpen: number;
  readonly bulletinsUndecided: number;
  readonly order: PlacedOrder | null;
}

interface PlacedOrder {
  readonly number: number;
  readonly state: WorkOrderState;
  readonly week: string | null;
  readonly shed: string | null;
}

/** The rows of the yard's table, in the order of the units. The caller has asked who may see them. */
export async function yardRows(db: Db | Tx, unitIds: readonly string[]): Promise<YardRow[]> {
  if (unitIds.length === 0) return [];
  const ids = [...unitIds];
  const [facts, bulletins, orders] = await Promise.all([
    verdictsOf(db, ids),
    bulletinCounts(db, ids),
    openOrders(db, ids),
  ]);
  const byUnit = new Map(facts.map((row) => [row.unit, row]));
  return ids.flatMap((id) => {
    const row = byUnit.get(id);
    if (!row) return [];
    const { assessment, make, model, builtYear, builtMonth, ...shown } = row;
    return [
      {
        ...shown,
        build: buildWords({ make, model, builtYear, builtMonth }),
        standing: assessment?.standing ?? null,
        reason: assessment?.reason ?? null,
        asOf: assessment?.asOf ?? null,
        edge: assessment && nextEdge(assessment),
        readOn: assessment?.readOn ?? null,
        readingDue: assessment?.nextReadingDue ?? null,
        bulletinsOpen: bulletins.get(id)?.open ?? 0,
        bulletinsUndecided: bulletins.get(id)?.undecided ?? 0,
        order: orders.get(id) ?? null,
      },
    ];
  });
}

const pickedNames = [
  'asOf',
  'standing',
  'wear',
  'stop',
  'belt',
  'earliestEdge',
  'earliestEdgeCause',
  'nextReadingDue',
] as const satisfies readonly (keyof UnitAssessment)[];

/** What the table needs of an assessment: the whole is several times as long. */
type Picked = Pick<UnitAssessment, (typeof pickedNames)[number]> & {
  readonly readOn: DayNumber | null;
  readonly reason: Reason | null;
};

const quoted = (name: string, quote: string) => sql.raw(`${quote}${name}${quote}`);

/** Unpacked once a row: each path into a stored document would unpack the whole of it again. */
const picked = sql<Picked | null>`(select json_build_object(${sql.join(
  pickedNames.map((name) => sql`${quoted(name, "'")}, ${quoted(name, '"')}`),
  sql`, `,
)}, 'readOn', latest -> 'readOn', 'reason', reasons -> 0) from jsonb_to_record(${verdict.assessment}) as whole (${sql.join(
  [...pickedNames, 'latest', 'reasons'].map((name) => sql`${quoted(name, '"')} jsonb`),
  sql`, `,
)}))`;

const verdictsOf = (db: Db | Tx, ids: string[]) =>
  db
    .select({
      unit: unit.id,
      shed: shed.name,
      make: unit.make,
      model: unit.model,
      builtYear: unit.builtYear,
      builtMonth: unit.builtMonth,
      mark: markOnShow,
      isBeingJudged: sql<boolean>`${judgingDue.unitId} is not null`,
      idle: verdict.latestIdleKpa,
      assessment: picked,
    })
    .from(unit)
    .innerJoin(shed, eq(shed.id, unit.shedId))
    .leftJoin(verdict, currentVerdict)
    .leftJoin(judgingDue, eq(judgingDue.unitId, unit.id))
    .where(inArray(unit.id, ids));

async function bulletinCounts(db: Db | Tx, ids: string[]) {
  const rows = await db
    .select({ unitId: bulletinUnit.unitId, status: bulletinUnit.status, bulletins: count() })
    .from(bulletinUnit)
    .where(
      and(
        inArray(bulletinUnit.unitId, ids),
        inArray(bulletinUnit.status, ['open', 'planned', 'undecided']),
      ),
    )
    .groupBy(bulletinUnit.unitId, bulletinUnit.status);
  const counts = new Map<string, { open: number; undecided: number }>();
  for (const { unitId, status, bulletins } of rows) {
    const of = counts.get(unitId) ?? { open: 0, undecided: 0 };
    of[status === 'undecided' ? 'undecided' : 'open'] += bulletins;
    counts.set(unitId, of);
  }
  return counts;
}

/** The next visit of each unit: the earliest week that an unfinished order is placed in, else an order without one. */
async function openOrders(db: Db | Tx, ids: string[]): Promise<Map<string, PlacedOrder>> {
  const rows = await db
    .selectDistinctOn([workOrder.unitId], {
      unitId: workOrder.unitId,
      number: workOrder.number,
      state: workOrder.state,
      week: workOrder.week,
      shed: shed.name,
    })
    .from(workOrder)
    .leftJoin(shed, eq(shed.id, workOrder.shedId))
    .where(
      and(
        inArray(workOrder.unitId, ids),
        notInArray(workOrder.state, ['finished', 'closed', 'withdrawn']),
      ),
    )
    .orderBy(asc(workOrder.unitId), asc(workOrder.week), asc(workOrder.number));
  return new Map(rows.map(({ unitId, ...order }) => [unitId, order]));
}

function buildWords(build: {
  readonly make: string | null;
  readonly model: string | null;
  readonly builtYear: number | null;
  readonly builtMonth: number | null;
}): string {
  const { builtYear, builtMonth } = build;
  const month = builtMonth === null ? '' : `-${String(builtMonth).padStart(2, '0')}`;
  const built = builtYear === null ? null : `${builtYear}${month}`;
  return [build.make, build.model, built].filter(Boolean).join(' ');
}
