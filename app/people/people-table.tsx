import { DataTable } from '@/app/_ui/data-table';
import { Dialog } from '@/app/_ui/dialog';
import type { People, PersonListed } from '@/db/reads/people';
import { ChangePerson } from './change-person';
import styles from './people.module.css';

interface PeopleTableProps extends People {
  /** Who looks: nobody changes themselves. */
  readonly ownId: string;
}

function standing({ isActive, hasPassword, codeUntil }: PersonListed): string {
  if (!isActive) return 'Barred';
  if (hasPassword) return 'Signs in';
  return codeUntil ? 'Has a code' : 'Has neither password nor code';
}

export function PeopleTable({ people, sheds, ownId }: PeopleTableProps) {
  const nameOf = new Map(sheds.map(({ id, name }) => [id, name]));
  return (
    <DataTable label="People">
      <thead>
        <tr>
          <th scope="col">Name</th>
          <th scope="col">Badge</th>
          <th scope="col">E-mail address</th>
          <th scope="col">Role</th>
          <th scope="col">Role since</th>
          <th scope="col">Sheds</th>
          <th scope="col">Standing</th>
          <th scope="col">Change</th>
        </tr>
      </thead>
      <tbody>
        {people.map((one) => (
          <tr key={one.id} className={one.isActive ? undefined : styles.barred}>
            <th scope="row">{one.name}</th>
            <td>{one.badge}</td>
            <td>{one.email}</td>
            <td>{one.isOutsideCertifier ? `${one.role}, outside shop` : one.role}</td>
            <td>{one.roleSince.toISOString().slice(0, 10)}</td>
            <td>{one.shedIds.map((id) => nameOf.get(id) ?? id).join(', ') || '–'}</td>
            <td>{standing(one)}</td>
            <td>
              {one.id === ownId ? (
                <span className="mute">You</span>
              ) : (
                <Dialog opener={`Change ${one.name}`} title={one.name}>
                  <ChangePerson person={one} sheds={sheds} />
                </Dialog>
              )}
            </td>
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
