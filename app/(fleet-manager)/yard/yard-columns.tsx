'use client';

import {
  columnVisibilityFeature,
  createColumnHelper,
  rowSortingFeature,
  tableFeatures,
} from '@tanstack/react-table';
import Link from 'next/link';
import { isoDate, pressureFigure } from '@/app/_ui/format';
import { MarkTag } from '@/app/_ui/mark';
import { Sparkline } from '@/app/_ui/sparkline';
import type { YardRow } from '@/db/reads/yard-rows';
import type { UnitsOfMeasure } from '@/lib/analysis/rules';
import type { DayNumber, Kilopascals } from '@/lib/measure';
import { bulletinWords, edgeWords, nextWords, whyWords } from './row-words';
import styles from './yard.module.css';

export const yardFeatures = tableFeatures({ rowSortingFeature, columnVisibilityFeature });

const helper = createColumnHelper<typeof yardFeatures, YardRow>();

/** Every row's small chart is drawn to the same axes, kPa sea-level equivalent. */
const sparkValues = [62, 96] as const;

const twoYears = 730;
const halfYear = 182;

interface ColumnsInput {
  readonly units: UnitsOfMeasure;
  readonly wearLimit: Kilopascals;
  readonly today: DayNumber;
}

export const columnTitles = {
  mark: 'Mark',
  unit: 'Unit',
  shed: 'Shed',
  build: 'Build',
  why: 'Why',
  series: 'Idle, 8 quarters',
  idle: 'Last',
  edge: 'Weeks to limit',
  read: 'Read',
  bulletins: 'Bulletins',
  next: 'Next',
} as const;
export type ColumnId = keyof typeof columnTitles;

/** The unit names the row and the mark judges it: these two stay. */
export const choosable = (Object.keys(columnTitles) as ColumnId[]).filter(
  (id) => id !== 'mark' && id !== 'unit',
);
export const firstColumns: readonly ColumnId[] = choosable.filter((id) => id !== 'build');

export function yardColumns({ units, wearLimit, today }: ColumnsInput) {
  const pressureUnit = units.pressure;
  const days = [today - twoYears, today + halfYear] as const;
  return helper.columns([
    helper.accessor('mark', {
      id: 'mark',
      header: columnTitles.mark,
      cell: ({ row: { original } }) =>
        original.mark ? <MarkTag mark={original.mark} /> : <span>{original.standing}</span>,
    }),
    helper.accessor('unit', {
      id: 'unit',
      header: columnTitles.unit,
      cell: ({ getValue }) => (
        <Link href={`/units/${getValue()}`} prefetch={false} tabIndex={-1} className={styles.open}>
          {getValue()}
        </Link>
      ),
    }),
    helper.accessor('shed', { id: 'shed', header: columnTitles.shed }),
    helper.accessor('build', {
      id: 'build',
      header: columnTitles.build,
      enableSorting: false,
    }),
    helper.accessor('reason', {
      id: 'why',
      header: columnTitles.why,
      enableSorting: false,
      cell: ({ getValue }) => whyWords(getValue(), units),
    }),
    helper.display({
      id: 'series',
      header: columnTitles.series,
      cell: ({ row: { original } }) => (
        <Sparkline
          points={original.points}
          limit={wearLimit}
          band={original.band.map(({ day, low80, high80 }) => ({
            day,
            low: low80,
            high: high80,
          }))}
          days={days}
          values={sparkValues}
        />
      ),
    }),
    helper.accessor('idle', {
      id: 'idle',
      header: `${columnTitles.idle}, ${pressureUnit}`,
      cell: ({ getValue }) => (
        <>
          {pressureFigure(getValue(), pressureUnit)}
          <span className={styles.cardOnly}> {pressureUnit}</span>
        </>
      ),
    }),
    helper.display({
      id: 'edge',
      header: columnTitles.edge,
      enableSorting: true,
      cell: ({ row: { original } }) => {
        const { main, interval, cause } = edgeWords(original);
        return (
          <>
            {cause && <span className="mute">{cause} </span>}
            {main} <span className="mute">{interval}</span>
          </>
        );
      },
    }),
    helper.accessor('readOn', {
      id: 'read',
      header: columnTitles.read,
      cell: ({ getValue }) => {
        const readOn = getValue();
        return readOn === null ? 'never' : isoDate(readOn);
      },
    }),
    helper.display({
      id: 'bulletins',
      header: columnTitles.bulletins,
      cell: ({ row: { original } }) => bulletinWords(original),
    }),
    helper.display({
      id: 'next',
      header: columnTitles.next,
      cell: ({ row: { original } }) => nextWords(original),
    }),
  ]);
}
