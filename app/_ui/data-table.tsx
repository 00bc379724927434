import type { ReactNode } from 'react';
import styles from './data-table.module.css';

interface DataTableProps {
  /** Names the table and its scrolling region for people who cannot see it. */
  readonly label: string;
  readonly captionShown?: boolean;
  /** `grid` rules every cell, for matrices. */
  readonly look?: 'rows' | 'grid';
  readonly small?: boolean;
  /** On a phone each row is a block of its own; every `td` names its column in `data-label`. */
  readonly stacks?: boolean;
  /** Of its columns, in percent: they keep their place while the rows arrive. */
  readonly widths?: readonly number[];
  readonly children: ReactNode;
}

/** Base look of every table. Cells with numbers carry the class `number`, with sentences `words`. */
export function DataTable({
  label,
  captionShown,
  look = 'rows',
  small,
  stacks,
  widths,
  children,
}: DataTableProps) {
  const classes = [
    styles.table,
    look === 'grid' && styles.grid,
    small && 'small',
    stacks && styles.stacks,
  ];
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a region that scrolls must take the keyboard
    <section className={styles.scroll} aria-label={label} tabIndex={0}>
      <table className={classes.filter(Boolean).join(' ')}>
        <caption className={captionShown ? styles.caption : 'visually-hidden'}>{label}</caption>
        {widths && (
          <colgroup>
            {widths.map((width, column) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: columns have no other name
              <col key={column} style={{ width: `${width}%` }} />
            ))}
          </colgroup>
        )}
        {children}
      </table>
    </section>
  );
}
