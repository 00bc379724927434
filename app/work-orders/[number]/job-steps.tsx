import { Link } from '@/app/_ui/link';
import { Panel } from '@/app/_ui/panel';
import type { WorkOrderView } from '@/db/reads/work-order';
import { requiredPartsInWords } from '@/lib/bulletins/required-parts';
import { newtonMetresPerPoundFoot } from '@/lib/measure';
import styles from '../work-orders.module.css';

type JobStepsProps = Pick<WorkOrderView, 'tasks' | 'templates' | 'bulletins' | 'stock'>;

const torque = (newtonMetres: number) =>
  `${(newtonMetres / newtonMetresPerPoundFoot).toFixed(0)} lb-ft (${newtonMetres.toFixed(1)} N·m)`;

/** The job card: each task with its parts, tools, steps, values and cautions. */
export function JobSteps({ tasks, templates, bulletins, stock }: JobStepsProps) {
  return tasks.map((task) => {
    const template = templates.get(task.kind);
    const bulletin = task.bulletinId === null ? undefined : bulletins.get(task.bulletinId);
    const parts = stock.filter(({ partNumber }) => partNumber === task.partNumber);
    return (
      <Panel
        key={task.id}
        title={task.title}
        aside={`${task.hours.toFixed(1)} h, ${task.state}${task.struckWhy ? `: ${task.struckWhy}` : ''}`}
      >
        {bulletin && (
          <>
            <p>
              <b>To do</b> {bulletin.actions}
            </p>
            <p className="small">
              {bulletin.requiredParts.length > 0 && (
                <>
                  <b>Must be fitted</b> {requiredPartsInWords(bulletin.requiredParts)}.{' '}
                </>
              )}
              <Link href={`/effectivity/bulletins/${bulletin.id}`}>
                {bulletin.number} issue {bulletin.issue}
              </Link>
            </p>
          </>
        )}
        {parts.length > 0 && (
          <p className="small">
            <b>Parts</b>{' '}
            {parts
              .map(
                ({ partNumber, revision, inStock, supersededBy }) =>
                  `${partNumber} ${revision}, ${inStock} in stock${supersededBy ? `, superseded by ${supersededBy}` : ''}`,
              )
              .join('; ')}
          </p>
        )}
        {template && template.tools.length > 0 && (
          <p className="small">
            <b>Tools</b> {template.tools.join(', ')}
          </p>
        )}
        {task.torqueNm !== null && (
          <p className="small">
            <b>Torque</b> {torque(task.torqueNm)}; service information in force prevails
          </p>
        )}
        {template && (
          <ol className={styles.steps}>
            {template.steps.map(({ text, value, caution }) => (
              <li key={text}>
                {text} {value && <b>{value}</b>}
                {caution && <span className={styles.caution}>Caution: {caution}</span>}
              </li>
            ))}
          </ol>
        )}
      </Panel>
    );
  });
}
