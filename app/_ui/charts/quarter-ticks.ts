import { dayFromIso, isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';

export interface QuarterTick {
  readonly day: DayNumber;
  /** `2025-Q1`; null on quarters that only get a tick. */
  readonly label: string | null;
}

const quarterIndex = (day: DayNumber): number => {
  const [year, month] = isoFromDay(day).split('-').map(Number) as [number, number];
  return year * 4 + Math.floor((month - 1) / 3);
};

const firstDayOf = (index: number): DayNumber => {
  const month = String((index % 4) * 3 + 1).padStart(2, '0');
  return dayFromIso(`${String(Math.floor(index / 4)).padStart(4, '0')}-${month}-01`) ?? 0;
};

/** First day of the quarter that a day lies in. */
export const quarterOf = (day: DayNumber): DayNumber => firstDayOf(quarterIndex(day));

/** Quarters that begin within the span; at most `labels` of them are named, evenly and on year starts. */
export function quarterTicks(
  from: DayNumber,
  to: DayNumber,
  labels: number,
): readonly QuarterTick[] {
  const start = quarterIndex(from) + (quarterOf(from) < from ? 1 : 0);
  const count = Math.max(0, quarterIndex(to) - start + 1);
  const step = [1, 2, 4, 8, 16, 32].find((each) => count / each <= labels) ?? 64;
  return Array.from({ length: count }, (_, offset) => {
    const index = start + offset;
    const isNamed = index % step === 0;
    return {
      day: firstDayOf(index),
      label: isNamed ? `${Math.floor(index / 4)}-Q${(index % 4) + 1}` : null,
    };
  });
}
