import type { ReactNode, Ref } from 'react';
import styles from './status-line.module.css';

interface StatusLineProps {
  readonly children: ReactNode;
  /** For who moves the focus here. */
  readonly ref?: Ref<HTMLParagraphElement>;
}

/** Says in place what has happened or how old the page is; it stays where it is and never floats. */
export function StatusLine({ children, ref }: StatusLineProps) {
  return (
    <p ref={ref} role="status" tabIndex={ref ? -1 : undefined} className={styles.status}>
      {children}
    </p>
  );
}
