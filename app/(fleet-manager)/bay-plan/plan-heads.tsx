import type { PlanShed } from '@/lib/planning/plan';
import styles from './bay-plan.module.css';

/** The plan's weeks, as a table's heading. */
export function WeeksHead({ weeks }: { readonly weeks: readonly string[] }) {
  return (
    <thead>
      <tr>
        <th scope="col">Shed</th>
        {weeks.map((week) => (
          <th key={week} scope="col">
            {week.slice(0, 4)}
            <br />
            {week.slice(5)}
          </th>
        ))}
      </tr>
    </thead>
  );
}

/** A shed, as a row's heading. */
export function ShedHead({ name, hoursPerWeek }: Pick<PlanShed, 'name' | 'hoursPerWeek'>) {
  return (
    <th scope="row">
      {name}
      <span className={styles.under}>{hoursPerWeek} h a week</span>
    </th>
  );
}
