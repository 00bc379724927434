'use client';

import { yardSorts } from '@/lib/intake/yard-query';
import type { TableLook, YardTableModel } from './use-yard-table';
import styles from './yard.module.css';

interface YardHeadProps extends Pick<TableLook, 'sort' | 'isDescending'> {
  readonly table: YardTableModel;
}

export function YardHead({ table, sort, isDescending }: YardHeadProps) {
  const [group] = table.getHeaderGroups();
  return (
    <thead className={styles.head}>
      <tr aria-rowindex={1} className={styles.row}>
        {group?.headers.map((header) => {
          const { id } = header.column;
          const isSorted = sort === id;
          return (
            <th
              key={id}
              scope="col"
              data-column={id}
              aria-sort={isSorted ? (isDescending ? 'descending' : 'ascending') : undefined}
            >
              {yardSorts.some((each) => each === id) ? (
                <button
                  type="button"
                  className={styles.sort}
                  onClick={() => header.column.toggleSorting(isSorted && !isDescending)}
                >
                  <table.FlexRender header={header} />
                  {isSorted && <span aria-hidden="true">{isDescending ? '▾' : '▴'}</span>}
                </button>
              ) : (
                <table.FlexRender header={header} />
              )}
            </th>
          );
        })}
      </tr>
    </thead>
  );
}
