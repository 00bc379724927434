import { SelectField } from '@/app/_ui/field';
import { bulletinFields, type ColumnsHeld, leftOut } from '@/lib/intake/bulletin-columns';
import styles from './import.module.css';

interface ColumnsOfFileProps {
  readonly header: readonly string[];
  readonly held: ColumnsHeld;
  readonly isRemembered: boolean;
}

/** What each column of the file holds: open where one is not said yet, since none is left out unsaid. */
export function ColumnsOfFile({ header, held, isRemembered }: ColumnsOfFileProps) {
  const unsaid = held.filter((field) => field === '').length;
  const how = isRemembered ? 'as they were read the last time' : 'as their names say';
  return (
    <details open={unsaid > 0}>
      <summary>Columns of the file, {unsaid > 0 ? `${unsaid} to say what they hold` : how}</summary>
      <div className={styles.columns}>
        {[...header.entries()].map(([index, column]) => (
          <SelectField
            key={index}
            id={`column-${index}`}
            name="column"
            label={column.trim() || `Column ${index + 1}, without a name`}
            defaultValue={held[index]}
            error={held[index] === '' ? 'Say what it holds.' : undefined}
          >
            <option value="">what is it?</option>
            <option value={leftOut}>not to be read</option>
            {bulletinFields.map((field) => (
              <option key={field}>{field}</option>
            ))}
          </SelectField>
        ))}
      </div>
    </details>
  );
}
