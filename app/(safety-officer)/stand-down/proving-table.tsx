import { DataTable } from '@/app/_ui/data-table';
import { isoDate, noValue } from '@/app/_ui/format';
import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import type { ProvingUnit } from '@/db/reads/proving-units';
import styles from './board.module.css';

export function ProvingTable({ units }: { readonly units: readonly ProvingUnit[] }) {
  return (
    <DataTable label="Units that are back and proving" stacks>
      <thead>
        <tr>
          <th scope="col">Unit</th>
          <th scope="col">Shed</th>
          <th scope="col">Owed</th>
          <th scope="col">Last read</th>
          <th scope="col">Next reading due</th>
        </tr>
      </thead>
      <tbody>
        {units.map(({ unitId, shedName, why, lastReadOn, nextReadingDue }) => (
          <tr key={unitId}>
            <th scope="row">
              <Link href={`/units/${encodeURIComponent(unitId)}`}>
                <MarkTag mark="Proving" word={unitId} size={14} />
              </Link>
            </th>
            <td data-label="Shed">{shedName}</td>
            <td data-label="Owed" className={styles.why}>
              {why}
            </td>
            <td data-label="Last read" className={styles.nowrap}>
              {lastReadOn ?? noValue}
            </td>
            <td data-label="Next due" className={styles.nowrap}>
              {isoDate(nextReadingDue)}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
