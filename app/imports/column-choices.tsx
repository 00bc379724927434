import { Button } from '@/app/_ui/button';
import { SelectField } from '@/app/_ui/field';
import { type ColumnMapping, decimalMarks, encodings } from '@/lib/intake/import/column-mapping';
import { type ImportKind, importFields } from '@/lib/intake/import/import-fields';
import { distanceUnits, pressureUnits } from '@/lib/measure';
import { checkAction } from './actions';
import { ImportForm } from './import-form';
import styles from './imports.module.css';

interface ColumnChoicesProps {
  readonly importId: string;
  readonly kind: ImportKind;
  readonly header: readonly string[];
  readonly mapping: ColumnMapping;
}

/** Which column holds what, and in which unit of measure. */
export function ColumnChoices({ importId, kind, header, mapping }: ColumnChoicesProps) {
  return (
    <ImportForm action={checkAction} importId={importId}>
      <div className={styles.columns}>
        {importFields[kind].map(({ name, label, measure, isRequired }) => (
          <div key={name} className={measure && styles.pair}>
            <SelectField
              id={name}
              name={`column-${name}`}
              label={isRequired ? `${label} (needed)` : label}
              defaultValue={mapping.columns[name] ?? ''}
            >
              <option value="">in no column</option>
              {header.map((column) => (
                <option key={column}>{column}</option>
              ))}
            </SelectField>
            {measure && (
              <SelectField
                id={`unit-${name}`}
                name={`unit-${name}`}
                label={<span className="visually-hidden">Unit of measure of {label}</span>}
                defaultValue={mapping.units[name] ?? ''}
              >
                <option value="">unit?</option>
                {(measure === 'pressure' ? pressureUnits : distanceUnits).map((unit) => (
                  <option key={unit}>{unit}</option>
                ))}
              </SelectField>
            )}
          </div>
        ))}
        <SelectField
          id="decimal"
          name="decimal"
          label="Decimals come after a"
          defaultValue={mapping.decimal}
        >
          {decimalMarks.map((mark) => (
            <option key={mark}>{mark}</option>
          ))}
        </SelectField>
        <SelectField
          id="encoding"
          name="encoding"
          label="Characters"
          defaultValue={mapping.encoding}
        >
          {encodings.map((encoding) => (
            <option key={encoding}>{encoding}</option>
          ))}
        </SelectField>
      </div>
      <p className="mute small">
        Dates are written 2026-06-30. A time without its offset from UTC is by the clock of the
        unit's shed. An empty cell is "could not".
      </p>
      <div>
        <Button type="submit" main>
          Check the file
        </Button>
      </div>
    </ImportForm>
  );
}
