'use client';

import { ChoiceField } from '@/app/_ui/field';
import { useAtOnce } from './use-at-once';
import styles from './yard.module.css';
import { type ColumnId, choosable, columnTitles, firstColumns } from './yard-columns';

interface ColumnChoiceProps {
  readonly columns: readonly ColumnId[];
  readonly onChange: (columns: readonly ColumnId[]) => void;
}

export function ColumnChoice({ columns, onChange }: ColumnChoiceProps) {
  const [shown, setShown] = useAtOnce(columns);

  function choose(id: ColumnId, isShown: boolean) {
    const chosen = choosable.filter((each) => (each === id ? isShown : shown.includes(each)));
    setShown(chosen);
    onChange(chosen.join() === firstColumns.join() ? firstColumns : chosen);
  }

  return (
    <details className={`${styles.columns} no-print`}>
      <summary>Columns</summary>
      <fieldset className={styles.choices}>
        <legend className="visually-hidden">Columns of the table</legend>
        {choosable.map((id) => (
          <ChoiceField
            key={id}
            id={`column-${id}`}
            label={columnTitles[id]}
            checked={shown.includes(id)}
            onChange={(event) => choose(id, event.target.checked)}
          />
        ))}
      </fieldset>
    </details>
  );
}
