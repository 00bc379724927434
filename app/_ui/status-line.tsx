import type { ReactNode } from 'react';
import styles from './status-line.module.css';

interface StatusLineProps {
  readonly children: ReactNode;
}

/** Says in place what has happened or how old the page is; it stays where it is and never floats. */
export function StatusLine({ children }: StatusLineProps) {
  return (
    <p role="status" className={styles.status}>
      {children}
    </p>
  );
}
