import { and, eq, gt, inArray, isNotNull, lte, notExists, sql } from 'drizzle-orm';
import { type Actor, requirePermission } from '@/lib/access';
import { dayFromIso, isoFromDay, mondayOfIsoWeek } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import { crossingByWeek } from '@/lib/planning/crossing-by-week';
import type { PartNeed } from '@/lib/planning/part-stock';
import { openStates } from '@/lib/work-orders/move-order';
import type { Db, Tx } from '../client';
import { jobTemplate, verdict, workOrder, workTask } from '../schema';
import { planWeeks } from './bay-capacity';
import type { BayPlan } from './bay-plan';
import { isNotServed } from './book-in-without-order';

/**
 * Parts that the plan's orders need, for certain, and that units without an order will need: a pump
 * with the probability that the limit is met within the plan, a belt with the probability that its
 * distance is. Forecast work is dated by its early edge, like everything that is to be acted on.
 */
export async function partNeeds(
  db: Db | Tx,
  actor: Actor,
  { orders, input }: Pick<BayPlan, 'orders' | 'input'>,
): Promise<PartNeed[]> {
  requirePermission(actor, 'plan');
  const { firstMonday } = input;
  const placed = orders.flatMap(({ partNumbers, week, wantedBy }) => {
    const neededOn: DayNumber =
      (week === null ? null : mondayOfIsoWeek(week)) ?? wantedBy ?? firstMonday;
    return partNumbers.map((partNumber) => ({
      partNumber,
      revision: null,
      neededOn,
      probability: 1,
    }));
  });
  const templates = await db
    .select({ kind: jobTemplate.kind, partNumbers: jobTemplate.partNumbers })
    .from(jobTemplate)
    .where(inArray(jobTemplate.kind, ['pump', 'belt']));
  const partOf = (kind: 'pump' | 'belt') =>
    templates.find((template) => template.kind === kind)?.partNumbers[0];
  const [pump, belt] = [partOf('pump'), partOf('belt')];
  return [
    ...placed,
    ...(pump ? await pumpsExpected(db, firstMonday, pump) : []),
    ...(belt ? await beltsExpected(db, firstMonday, belt) : []),
  ];
}

async function pumpsExpected(db: Db | Tx, firstMonday: DayNumber, partNumber: string) {
  const lastDay = firstMonday + 7 * planWeeks - 1;
  const found = await db
    .select({ probability: verdict.horizonProbability, edgeOn: verdict.earliestEdgeOn })
    .from(verdict)
    .where(
      and(
        eq(verdict.isCurrent, true),
        inArray(verdict.mark, ['Book in', 'Drifting']),
        gt(verdict.horizonProbability, 0),
        isNotServed(db),
      ),
    );
  return found.map(
    ({ probability, edgeOn }): PartNeed => ({
      partNumber,
      revision: null,
      neededOn: Math.min(lastDay, dayOrNull(edgeOn) ?? lastDay),
      probability: probability ?? 0,
    }),
  );
}

/** Belts whose early edge falls within the plan, of units in use with no belt work open. */
async function beltsExpected(db: Db | Tx, firstMonday: DayNumber, partNumber: string) {
  const lastDay = firstMonday + 7 * planWeeks - 1;
  const belts = await db
    .select({
      earliestOn: verdict.beltEarliestOn,
      dueOn: verdict.beltDueOn,
      latestOn: verdict.beltLatestOn,
      readOn: verdict.latestReadOn,
    })
    .from(verdict)
    .where(
      and(
        eq(verdict.isCurrent, true),
        isNotNull(verdict.mark),
        lte(verdict.beltEarliestOn, isoFromDay(lastDay)),
        notExists(
          db
            .select({ one: sql`1` })
            .from(workOrder)
            .innerJoin(workTask, eq(workTask.workOrderId, workOrder.id))
            .where(
              and(
                eq(workOrder.unitId, verdict.unitId),
                inArray(workOrder.state, openStates),
                eq(workTask.kind, 'belt'),
                eq(workTask.state, 'open'),
              ),
            ),
        ),
      ),
    );
  return belts.flatMap(({ earliestOn, dueOn, latestOn, readOn }): PartNeed[] => {
    const [earliest80, median, latest80] = [earliestOn, dueOn, latestOn].map(dayOrNull);
    if (earliest80 == null) return [];
    const isPassed = latest80 === earliest80;
    const [byTheEnd] = crossingByWeek(
      { earliest80, median, latest80 },
      dayOrNull(readOn) ?? firstMonday,
      lastDay + 1,
      0,
    );
    return [
      {
        partNumber,
        revision: null,
        neededOn: Math.max(firstMonday, earliest80),
        probability: isPassed ? 1 : (byTheEnd ?? 0),
      },
    ];
  });
}

const dayOrNull = (day: string | null): DayNumber | null => (day === null ? null : dayFromIso(day));
