import { Page } from '@/app/_ui/page';
import styles from './yard.module.css';

const rows = Array.from({ length: 14 }, (_, index) => index);

/** Outlines of rows at their final height, so that nothing moves when the list arrives. */
export default function YardLoading() {
  return (
    <Page title="Yard">
      <p role="status" className="visually-hidden">
        The list is being fetched.
      </p>
      <div className={styles.waiting} aria-hidden="true">
        {rows.map((row) => (
          <div key={row} className={styles.outline} />
        ))}
      </div>
    </Page>
  );
}
