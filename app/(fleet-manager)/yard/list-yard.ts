import 'server-only';
import { moment } from '@/app/_ui/format';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { clockOfPerson } from '@/db/reads/clock-of-person';
import { limitsInForce } from '@/db/reads/limits-in-force';
import { type MarkCounts, markCounts, rowsListed } from '@/db/reads/mark-counts';
import type { YardCursor } from '@/db/reads/yard-order';
import { placeInYard, yardPage } from '@/db/reads/yard-page';
import { type YardRow, yardRows } from '@/db/reads/yard-rows';
import { type YardSeries, yardSeries } from '@/db/reads/yard-series';
import { localDay } from '@/lib/calendar';
import { writeYardQuery, type YardQuery } from '@/lib/intake/yard-query';
import type { DayNumber, Kilopascals } from '@/lib/measure';

export const rowsAPage = 100;

/** One page of the yard with what stands around it. Plain JSON: the first is rendered, the rest fetched. */
export interface YardList {
  /** The address of the query that it answers. */
  readonly address: string;
  readonly asOf: string;
  /** Eight quarters back and two ahead: the span of every row's small chart. */
  readonly days: readonly [DayNumber, DayNumber];
  readonly wearLimit: Kilopascals;
  readonly counts: MarkCounts;
  readonly total: number;
  /** From 0. */
  readonly page: number;
  readonly rows: readonly YardListRow[];
  readonly end: YardCursor | null;
}

export interface YardListRow extends YardRow {
  readonly series: YardSeries | null;
}

export interface YardPlace {
  readonly page?: number;
  /** End of an earlier page, from which the wanted one is reached in fewer steps than from the top. */
  readonly after?: { readonly page: number; readonly end: YardCursor };
  /** The page that holds this unit, or the first. */
  readonly row?: string;
}

export async function listYard(
  person: SignedInPerson,
  query: YardQuery,
  place: YardPlace,
  now: Date,
): Promise<YardList> {
  const { db } = await database();
  const timeZone = await clockOfPerson(db, person);
  const today = localDay(now, timeZone);
  const days = [today - 730, today + 182] as const;
  const before = place.row === undefined ? null : await placeInYard(db, person, query, place.row);
  const page = before === null ? (place.page ?? 0) : Math.floor(before / rowsAPage);
  const after = place.after && place.after.page < page ? place.after : null;
  const counts = await markCounts(db, person, query);
  const { unitIds, end } = await yardPage(db, person, query, {
    after: after?.end ?? null,
    skip: (page - (after ? after.page + 1 : 0)) * rowsAPage,
    limit: rowsAPage,
    isEachJudged: counts.isEachJudged,
  });
  const [rows, series] = await Promise.all([yardRows(db, unitIds), yardSeries(db, unitIds, days)]);
  return {
    address: writeYardQuery(query).toString(),
    asOf: moment(now, timeZone),
    days,
    wearLimit: (await limitsInForce(db, today)).idleCautionSle,
    counts,
    total: rowsListed(counts, query),
    page,
    rows: rows.map((row) => ({ ...row, series: series.get(row.unit) ?? null })),
    end,
  };
}
