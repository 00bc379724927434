'use client';

import { FlexRender } from '@tanstack/react-table';
import { useVirtualizer } from '@tanstack/react-virtual';
import { useRouter } from 'next/navigation';
import {
  type CSSProperties,
  type KeyboardEvent,
  memo,
  type ReactNode,
  useDeferredValue,
  useEffect,
  useRef,
  useState,
  useSyncExternalStore,
} from 'react';
import { stepFor } from './step-for';
import { useIsNarrow } from './use-is-narrow';
import { indexOf, type LoadedYard, rowAt, rowsAPage } from './use-yard-list';
import { type TableLook, useYardTable, type YardTableModel } from './use-yard-table';
import styles from './yard.module.css';
import { YardHead } from './yard-head';

const rowHeight = { wide: 40, narrow: 168 };

interface YardTableProps extends TableLook {
  readonly yard: LoadedYard;
  /** The unit to come back to. */
  readonly row: string | null;
  readonly onOpen: (unit: string) => void;
  /** Must keep its identity between renders. */
  readonly onSight: (pages: readonly number[]) => void;
}

type Cells = ReturnType<
  ReturnType<YardTableModel['getRowModel']>['rows'][number]['getVisibleCells']
>;

const neverChanges = () => () => undefined;

/** A picture of a row that has come into sight: drawn a moment after its words, with the page at once. */
function Later({ children }: { readonly children: ReactNode }) {
  const isWithThePage = useSyncExternalStore(
    neverChanges,
    () => false,
    () => true,
  );
  const isDrawn = useDeferredValue(true, isWithThePage);
  return isDrawn && children;
}

/** A key that moves the choice draws no cell again. */
const RowCells = memo(function RowCells({ cells }: { readonly cells: Cells }) {
  return cells.map((cell) => (
    <td key={cell.id} data-column={cell.column.id}>
      {cell.column.id === 'series' ? (
        <Later>
          <FlexRender cell={cell} />
        </Later>
      ) : (
        <FlexRender cell={cell} />
      )}
    </td>
  ));
});

/** At most some dozens of rows are in the document, whatever the length of the list. */
export function YardTable({ yard, row: left, onOpen, onSight, ...look }: YardTableProps) {
  const router = useRouter();
  const scroller = useRef<HTMLDivElement>(null);
  const isNarrow = useIsNarrow();
  const height = isNarrow ? rowHeight.narrow : rowHeight.wide;
  const [active, setActive] = useState(0);
  const virtual = useVirtualizer({
    count: yard.total,
    getScrollElement: () => scroller.current,
    estimateSize: () => height,
    overscan: 4,
    scrollPaddingStart: isNarrow ? 0 : rowHeight.wide,
    initialRect: { width: 1200, height: 640 },
  });
  const shown = virtual.getVirtualItems();
  const first = shown[0]?.index ?? 0;
  const last = shown.at(-1)?.index ?? 0;
  const table = useYardTable(yard, first, last, look);
  const rows = new Map(table.getRowModel().rows.map((row) => [row.id, row]));
  const unitLetters = Math.max(...[...rows.keys()].map((unit) => unit.length), 0);

  useEffect(() => {
    const pages = new Set([Math.floor(first / rowsAPage), Math.floor(last / rowsAPage)]);
    onSight([...pages]);
  }, [first, last, onSight]);

  // A list that is new begins at its top; one that is come back to, at the row that was left.
  const { address } = yard;
  const placed = useRef<string>(undefined);
  useEffect(() => {
    if (placed.current === address) return;
    const index = placed.current === undefined ? (indexOf(yard, left) ?? 0) : 0;
    placed.current = address;
    setActive(index);
    virtual.scrollToIndex(index, { align: index === 0 ? 'start' : 'center' });
  }, [address, yard, left, virtual]);

  // biome-ignore lint/correctness/useExhaustiveDependencies: rows are measured anew when their height changes
  useEffect(() => virtual.measure(), [height, virtual]);

  function onKeyDown(event: KeyboardEvent<HTMLTableElement>) {
    if (event.target !== event.currentTarget || event.altKey || event.metaKey) return;
    const unit = rowAt(yard, active)?.unit;
    if (event.key === 'Enter' && unit) {
      onOpen(unit);
      router.push(`/units/${unit}`);
      return;
    }
    const inSight = Math.floor((scroller.current?.clientHeight ?? 0) / height) - 1;
    const next = stepFor(event.key, { active, total: yard.total, inSight });
    if (next === null) return;
    event.preventDefault();
    setActive(next);
    virtual.scrollToIndex(next, { align: 'auto' });
  }

  const activeRow = rows.get(rowAt(yard, active)?.unit ?? '');
  return (
    <div ref={scroller} className={styles.scroller}>
      <table
        // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: a table with keys of its own is a grid
        role="grid"
        aria-label="Units"
        aria-rowcount={yard.total + 1}
        aria-activedescendant={activeRow && `row-${activeRow.id}`}
        tabIndex={0}
        className={styles.grid}
        style={{ '--unit-letters': unitLetters } as CSSProperties}
        onKeyDown={onKeyDown}
      >
        <YardHead table={table} {...look} />
        <tbody className={styles.body} style={{ height: virtual.getTotalSize() }}>
          {shown.map(({ index, start }) => {
            const found = rowAt(yard, index);
            const row = found && rows.get(found.unit);
            return (
              <tr
                key={index}
                id={row && `row-${row.id}`}
                aria-rowindex={index + 2}
                aria-selected={index === active}
                className={styles.row}
                style={{ height, transform: `translateY(${start}px)` }}
                onClickCapture={() => found && onOpen(found.unit)}
              >
                {row ? (
                  <RowCells cells={row.getVisibleCells()} />
                ) : (
                  <td className={styles.outline}>
                    <span className="visually-hidden">Being fetched</span>
                  </td>
                )}
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}
