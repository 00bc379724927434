import type { ReactNode } from 'react';
import styles from './panel.module.css';

interface PanelProps {
  readonly title?: ReactNode;
  /** Shown at the end of the title's line. */
  readonly aside?: ReactNode;
  readonly id?: string;
  /** Lets a table reach the panel's edges. */
  readonly flush?: boolean;
  readonly children: ReactNode;
}

export function Panel({ title, aside, id, flush = false, children }: PanelProps) {
  const hasAside = aside === 0 || Boolean(aside);
  return (
    <section id={id} className={flush ? `${styles.panel} ${styles.flush}` : styles.panel}>
      {(title || hasAside) && (
        <div className={styles.head}>
          {title && <h2>{title}</h2>}
          {hasAside && <div className="small">{aside}</div>}
        </div>
      )}
      {children}
    </section>
  );
}
