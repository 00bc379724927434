'use client';

import { type SortingState, type Updater, useTable } from '@tanstack/react-table';
import { useMemo } from 'react';
import type { UnitsOfMeasure } from '@/lib/analysis/rules';
import { type YardSort, yardSorts } from '@/lib/intake/yard-query';
import type { YardListRow } from './list-yard';
import { type LoadedYard, rowsAPage } from './use-yard-list';
import { type ColumnId, choosable, yardColumns, yardFeatures } from './yard-columns';

export interface TableLook {
  /** Must keep its identity between renders. */
  readonly units: UnitsOfMeasure;
  readonly columns: readonly ColumnId[];
  readonly sort: YardSort;
  readonly isDescending: boolean;
  readonly onSort: (sort: YardSort, isDescending: boolean) => void;
}

/**
 * The table over the pages in sight; the server has sorted and filtered them. A row keeps its identity
 * while the eye wanders over them, so that its cells need not be drawn again.
 */
export function useYardTable(yard: LoadedYard, first: number, last: number, look: TableLook) {
  const { units, sort, isDescending, onSort } = look;
  const columns = useMemo(
    () => yardColumns({ units, wearLimit: yard.wearLimit, days: yard.days }),
    [units, yard.wearLimit, yard.days],
  );
  const [from, to] = [Math.floor(first / rowsAPage), Math.floor(last / rowsAPage)];
  const data = useMemo(
    () =>
      [...new Set([from, to])].flatMap(
        (page): readonly YardListRow[] => yard.pages.get(page)?.rows ?? [],
      ),
    [yard.pages, from, to],
  );
  const columnVisibility = useMemo(
    () => Object.fromEntries(choosable.map((id) => [id, look.columns.includes(id)])),
    [look.columns],
  );
  return useTable({
    features: yardFeatures,
    columns,
    data,
    getRowId: ({ unit }: YardListRow) => unit,
    manualSorting: true,
    enableSortingRemoval: false,
    state: {
      sorting: [{ id: sort, desc: isDescending }],
      columnVisibility,
    },
    onSortingChange: (change: Updater<SortingState>) => {
      const shown = [{ id: sort, desc: isDescending }];
      const [asked] = typeof change === 'function' ? change(shown) : change;
      const to = yardSorts.find((each) => each === asked?.id);
      if (asked && to) onSort(to, asked.desc);
    },
  });
}

export type YardTableModel = ReturnType<typeof useYardTable>;
