import type { ChartSpec } from '@/app/_ui/charts/chart-spec';
import { dayFromIso } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import type { ReviewMonth } from '@/lib/stand-down/review-months';

type Figure = Exclude<keyof ReviewMonth, 'month'>;

interface ReviewSeries {
  readonly title: string;
  readonly unit: string;
  readonly main: { readonly name: string; readonly figure: Figure };
  readonly second: { readonly name: string; readonly figure: Figure } | null;
}

/** One series of the months, each drawn at its first day. */
export function reviewSpec(
  months: readonly ReviewMonth[],
  { title, unit, main, second }: ReviewSeries,
  today: DayNumber,
): ChartSpec {
  const total = months.reduce((sum, month) => sum + month[main.figure], 0);
  return {
    title,
    description: `${title}, ${months.length} months to ${months.at(-1)?.month ?? 'now'}: ${total} in all.`,
    unit,
    decimals: 0,
    today,
    points: months.map((month) => ({
      day: dayFromIso(`${month.month}-01`) ?? today,
      value: month[main.figure],
      second: second ? month[second.figure] : null,
      unconfirmed: false,
      line: null,
      firstValue: null,
      note: null,
    })),
    mainName: main.name,
    secondName: second?.name ?? null,
    limits: [],
    forecast: [],
    passage: null,
    events: [],
  };
}
