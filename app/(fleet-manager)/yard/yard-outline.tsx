import { Page } from '@/app/_ui/page';
import styles from './yard.module.css';

const rows = Array.from({ length: 16 }, (_, k) => k);

/** The list's rows, while they are read. */
export function YardOutline() {
  return (
    <Page title="Yard">
      <div className={styles.view}>
        <p role="status">Fetching the units…</p>
        <div className={styles.scroller} aria-hidden="true">
          {rows.map((row) => (
            <div key={row} className={styles.row}>
              <div className={styles.outline} />
            </div>
          ))}
        </div>
      </div>
    </Page>
  );
}
