import 'server-only';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import type { YardCursor } from '@/db/reads/yard-order';
import { yardPage } from '@/db/reads/yard-page';
import { type YardRow, yardRows } from '@/db/reads/yard-rows';
import type { UnitsOfMeasure } from '@/lib/analysis/rules';
import { isoFromDay } from '@/lib/calendar';
import type { YardQuery } from '@/lib/intake/yard-query';
import { fromKilopascals } from '@/lib/measure';
import { type CsvCell, csvRecord } from '@/lib/outflow/csv';
import { whyWords } from './row-words';

const rowsAStep = 2500;

/** Text of the file, page by page, so that its length asks for no more memory than one page. */
export function csvOfYard(person: SignedInPerson, query: YardQuery): ReadableStream<string> {
  const units = { pressure: person.pressureUnit, distance: person.distanceUnit };
  let after: YardCursor | null = null;
  return new ReadableStream<string>({
    start(file) {
      file.enqueue(csvRecord(headerOf(units)));
    },
    async pull(file) {
      const { db } = await database();
      const place = { after, skip: 0, limit: rowsAStep };
      const page = await yardPage(db, person, query, place);
      const rows = await yardRows(db, page.unitIds);
      if (rows.length > 0) {
        file.enqueue(rows.map((row) => csvRecord(cellsOf(row, units))).join(''));
      }
      after = page.end;
      if (page.unitIds.length < rowsAStep) file.close();
    },
  });
}

const headerOf = ({ pressure }: UnitsOfMeasure): readonly string[] => [
  'unit',
  'mark',
  'shed',
  'build',
  'why',
  `last idle as read (${pressure})`,
  'last read',
  'limit by',
  'limit middle',
  'limit 8 in 10 from',
  'limit 8 in 10 to',
  'no date because',
  'bulletins open',
  'bulletins undecided',
  'work order',
  'placed week',
  'placed shed',
  'next reading due',
  'as of',
];

const date = (day: number | null | undefined): string | null =>
  day === null || day === undefined ? null : isoFromDay(day);

function cellsOf(row: YardRow, units: UnitsOfMeasure): readonly CsvCell[] {
  const { edge, order } = row;
  return [
    row.unit,
    row.mark ?? row.standing,
    row.shed,
    row.build,
    whyWords(row.reason, units),
    row.idle === null ? null : Number(fromKilopascals(row.idle, units.pressure).toFixed(2)),
    date(row.readOn),
    edge?.cause ?? null,
    date(edge?.median),
    date(edge?.earliest80),
    date(edge?.latest80),
    edge?.whyNone ?? null,
    row.bulletinsOpen,
    row.bulletinsUndecided,
    order?.number ?? null,
    order?.week ?? null,
    order?.shed ?? null,
    date(row.readingDue),
    date(row.asOf),
  ];
}
