import type { ReactNode } from 'react';
import styles from './page.module.css';

interface PageProps {
  readonly title: ReactNode;
  /** Where the page sits, e.g. a link back to the yard. */
  readonly above?: ReactNode;
  /** The page's sentence, under its title. */
  readonly lede?: ReactNode;
  readonly actions?: ReactNode;
  readonly children: ReactNode;
}

export function Page({ title, above, lede, actions, children }: PageProps) {
  return (
    <main id="main" tabIndex={-1} className={styles.page}>
      <div className={styles.head}>
        <div className={styles.words}>
          {above && <p className={styles.above}>{above}</p>}
          <h1>{title}</h1>
          {lede && <div className={styles.lede}>{lede}</div>}
        </div>
        {actions && <div className={`${styles.actions} no-print`}>{actions}</div>}
      </div>
      {children}
    </main>
  );
}
