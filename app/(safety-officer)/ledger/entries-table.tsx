import { DataTable } from '@/app/_ui/data-table';
import { moment } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import type { LedgerRow } from '@/db/reads/ledger-entries';
import { payloadWords } from '@/lib/ledger/payload-words';
import styles from './ledger.module.css';

interface EntriesTableProps {
  readonly rows: readonly LedgerRow[];
  readonly timeZone: string;
}

export function EntriesTable({ rows, timeZone }: EntriesTableProps) {
  return (
    <DataTable label="Ledger entries, newest first" small stacks>
      <thead>
        <tr>
          <th scope="col" className="number">
            Entry
          </th>
          <th scope="col">When</th>
          <th scope="col">Who</th>
          <th scope="col">Kind</th>
          <th scope="col">Unit</th>
          <th scope="col">What</th>
          <th scope="col">Hash, and hash before</th>
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.entry}>
            <th scope="row" className="number">
              {row.entry}
            </th>
            <td data-label="When" className={styles.nowrap}>
              {moment(row.at, timeZone)}
              {row.deviceAt && <div className="mute">device {moment(row.deviceAt, timeZone)}</div>}
            </td>
            <td data-label="Who" className={styles.words}>
              {row.who ?? 'the program'}
            </td>
            <td data-label="Kind" className={styles.words}>
              {row.kind}
            </td>
            <td data-label="Unit">
              {row.unitId && (
                <Link href={`/ledger?unit=${encodeURIComponent(row.unitId)}`}>{row.unitId}</Link>
              )}
            </td>
            <td data-label="What">
              {row.canonical === null ? (
                payloadWords(null)
              ) : (
                <details>
                  <summary>{payloadWords(row.canonical)}</summary>
                  <pre className={`fixed ${styles.payload}`}>
                    {JSON.stringify(JSON.parse(row.canonical), null, 2)}
                  </pre>
                </details>
              )}
            </td>
            <td data-label="Hashes" className="fixed unbroken">
              {row.hash.slice(0, 16)}
              <div className="mute">{row.previousHash.slice(0, 16)}</div>
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
