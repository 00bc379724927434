import { DataTable } from '@/app/_ui/data-table';
import { Link } from '@/app/_ui/link';
import { MarkTag } from '@/app/_ui/mark';
import { database } from '@/db/handle';
import type { SignedInPerson } from '@/db/reads/actor-of-person';
import { marksUnderLimits } from '@/db/reads/marks-under-limits';
import type { Limits } from '@/lib/analysis/limits';

interface MarkChangesProps {
  readonly person: SignedInPerson;
  readonly limits: Limits;
}

/** What the proposed set would do to the fleet if it counted today. */
export async function MarkChanges({ person, limits }: MarkChangesProps) {
  const { db } = await database();
  const changes = await marksUnderLimits(db, person, limits, new Date());
  if (changes.length === 0) return <p>No unit would change its mark today.</p>;
  return (
    <>
      <p>
        {changes.length === 1
          ? 'This unit would change its mark today:'
          : `These ${changes.length} units would change their marks today:`}
      </p>
      <DataTable label="Units that would change their marks">
        <thead>
          <tr>
            <th scope="col">Unit</th>
            <th scope="col">From</th>
            <th scope="col">To</th>
            <th scope="col">Why</th>
          </tr>
        </thead>
        <tbody>
          {changes.map(({ unitId, from, to, why }) => (
            <tr key={unitId}>
              <th scope="row">
                <Link href={`/units/${encodeURIComponent(unitId)}`}>{unitId}</Link>
              </th>
              <td>{from && <MarkTag mark={from} size={14} />}</td>
              <td>{to && <MarkTag mark={to} size={14} />}</td>
              <td>{why}</td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </>
  );
}
