'use client';

import {
  columnVisibilityFeature,
  createColumnHelper,
  rowSortingFeature,
  tableFeatures,
} from '@tanstack/react-table';
import { isoDate, pressureFigure } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import { Sparkline } from '@/app/_ui/sparkline';
import type { UnitsOfMeasure } from '@/lib/analysis/rules';
import type { YardList, YardListRow } from './list-yard';
import { bulletinWords, edgeWords, nextWords, whyWords } from './row-words';
import styles from './yard.module.css';

export const yardFeatures = tableFeatures({ rowSortingFeature, columnVisibilityFeature });

const helper = createColumnHelper<typeof yardFeatures, YardListRow>();

/** Every row's small chart is drawn to the same axes, kPa sea-level equivalent. */
const sparkValues = [62, 96] as const;

interface ColumnsInput extends Pick<YardList, 'wearLimit' | 'days'> {
  readonly units: UnitsOfMeasure;
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

export function yardColumns({ units, wearLimit, days }: ColumnsInput) {
  const pressureUnit = units.pressure;
  return helper.columns([
    helper.accessor('mark', {
      id: 'mark',
      header: columnTitles.mark,
      cell: ({ row: { original } }) => (
        <>
          {original.mark ? <MarkTag mark={original.mark} /> : <span>{original.standing}</span>}
          {original.isBeingJudged && <span className="mute small"> being judged</span>}
        </>
      ),
    }),
    helper.accessor('unit', {
      id: 'unit',
      header: columnTitles.unit,
      cell: ({ getValue }) => (
        <Link href={`/units/${getValue()}`} tabIndex={-1} className={styles.open}>
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
          points={original.series?.points ?? []}
          limit={wearLimit}
          band={original.series?.band.map(({ day, low80, high80 }) => ({
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
