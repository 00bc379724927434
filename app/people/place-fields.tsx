import { ChoiceField, SelectField } from '@/app/_ui/field';
import { Link } from '@/app/_ui/link';
import { type Role, roles } from '@/lib/access';
import styles from './people.module.css';

interface PlaceFieldsProps {
  readonly sheds: readonly { readonly id: string; readonly name: string }[];
  /** Whom the fields are about; empty for a person still to be invited. */
  readonly personId?: string;
  readonly role?: Role;
  readonly shedIds?: readonly string[];
}

export function PlaceFields({ sheds, personId, role, shedIds = [] }: PlaceFieldsProps) {
  const idOf = (name: string) => (personId ? `${name}-${personId}` : name);
  return (
    <>
      <SelectField id={idOf('role')} name="role" label="Role" defaultValue={role}>
        {roles.map((one) => (
          <option key={one}>{one}</option>
        ))}
      </SelectField>
      <fieldset id={idOf('shedIds')} tabIndex={-1}>
        <legend className={styles.legend}>Sheds</legend>
        <p className="mute small">A technician sees and reads the units of these alone.</p>
        {sheds.length === 0 && (
          <p className="small">
            No shed is on record. <Link href="/sheds">Add one</Link> before a technician is invited.
          </p>
        )}
        <div className={styles.sheds}>
          {sheds.map(({ id, name }) => (
            <ChoiceField
              key={id}
              id={idOf(`shed-${id}`)}
              name="shedIds"
              value={id}
              label={name}
              defaultChecked={shedIds.includes(id)}
            />
          ))}
        </div>
      </fieldset>
    </>
  );
}
