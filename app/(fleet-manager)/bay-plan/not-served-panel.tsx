import { Link } from '@/app/_ui/link';
import { Panel } from '@/app/_ui/panel';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { bookInWithoutOrder } from '@/db/reads/book-in-without-order';
import styles from './bay-plan.module.css';

/** Units marked Book in that no open order serves. */
export async function NotServedPanel({ person }: { readonly person: SignedInPerson }) {
  const { db } = await database();
  const { count, first } = await bookInWithoutOrder(db, person);
  return (
    <Panel title={`Book in, without an order: ${count}`}>
      <ul className={styles.list}>
        {first.map(({ unitId, why }) => (
          <li key={unitId}>
            <Link href={`/work-orders/new?unit=${unitId}`}>{unitId}</Link> {why}
          </li>
        ))}
      </ul>
      {count > first.length && (
        <p className="small">
          <Link href="/yard">{count - first.length} more in the yard</Link>
        </p>
      )}
    </Panel>
  );
}
