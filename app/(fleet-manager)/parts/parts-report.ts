import 'server-only';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { bayPlan } from '@/db/reads/bay-plan';
import { partNeeds } from '@/db/reads/part-needs';
import { isoWeekOf, localDay } from '@/lib/calendar';
import { type PartToOrder, partsToOrder } from '@/lib/planning/parts-to-order';

export type StockOnList = Awaited<ReturnType<typeof bayPlan>>['stock'][number];

export interface PartsView {
  readonly weeks: readonly { readonly monday: number; readonly week: string }[];
  readonly parts: readonly PartToOrder[];
  readonly stock: readonly StockOnList[];
  readonly notListed: readonly string[];
}

/** What the plan and the forecasts need of each part, week by week. */
export async function partsReport(person: SignedInPerson): Promise<PartsView> {
  const { db } = await database();
  const today = localDay(new Date(), 'UTC');
  const plan = await bayPlan(db, person, today);
  const report = partsToOrder(await partNeeds(db, person, plan), plan.stock, today);
  const { firstMonday, weekCount } = plan.input;
  return {
    weeks: Array.from({ length: weekCount }, (_, k) => ({
      monday: firstMonday + 7 * k,
      week: isoWeekOf(firstMonday + 7 * k),
    })),
    parts: report.parts,
    stock: plan.stock,
    notListed: [...new Set(report.notListed.map(({ partNumber }) => partNumber))],
  };
}

/** Pieces needed up to the end of a week: of the newest week on record that is not after it. */
export const neededBy = ({ needs }: PartToOrder, monday: number) =>
  needs.findLast((need) => need.monday <= monday) ?? { expected: 0, low80: 0, high80: 0 };
