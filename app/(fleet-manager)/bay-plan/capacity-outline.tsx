import { Panel } from '@/app/_ui/panel';
import { openHours } from '@/lib/planning/open-hours';
import type { PlanShed } from '@/lib/planning/plan';
import styles from './bay-plan.module.css';
import { ShedHead, WeeksHead } from './plan-heads';

interface CapacityOutlineProps {
  readonly weeks: readonly string[];
  readonly sheds: readonly PlanShed[];
}

/** Bay hours by shed and week, while the orders are read. */
export function CapacityOutline({ weeks, sheds }: CapacityOutlineProps) {
  return (
    <>
      <p className={styles.weight} role="status">
        Fetching the orders…
      </p>
      <Panel flush>
        <div className={styles.scroll}>
          <table className={styles.grid} aria-busy="true">
            <caption className="visually-hidden">Bay hours by shed and week</caption>
            <WeeksHead weeks={weeks} />
            <tbody>
              {sheds.map((shed) => (
                <tr key={shed.id}>
                  <ShedHead {...shed} />
                  {weeks.map((week) => (
                    <td key={week}>
                      <span className={styles.load}>{openHours(shed, week).toFixed(0)} h</span>
                    </td>
                  ))}
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      </Panel>
    </>
  );
}
