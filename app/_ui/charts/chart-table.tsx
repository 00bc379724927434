import type { ChartPoint, ChartSpec } from '@/app/_ui/charts/chart-spec';
import { DataTable } from '@/app/_ui/data-table';
import { isoDate, noValue } from '@/app/_ui/format';
import styles from './chart.module.css';

function notesOf({ unconfirmed, line, firstValue, note }: ChartPoint, decimals: number): string {
  const notes = [
    unconfirmed && 'not yet confirmed',
    line && (line === 'film' ? 'oil film in the line' : 'line wet with oil'),
    firstValue !== null && `first recorded as ${firstValue.toFixed(decimals)}, amended`,
    note,
  ];
  return notes.filter(Boolean).join('; ');
}

/** Every reading and every forecast point of the drawing, as figures. */
export function ChartTable({ spec }: { readonly spec: ChartSpec }) {
  const figure = (value: number | null) =>
    value === null ? noValue : value.toFixed(spec.decimals);
  return (
    <details className={styles.table}>
      <summary>Show as a table</summary>
      <DataTable label={`${spec.title}: readings`} small>
        <thead>
          <tr>
            <th scope="col">Read</th>
            <th scope="col" className="number">
              {spec.mainName}, {spec.unit}
            </th>
            {spec.secondName !== null && (
              <th scope="col" className="number">
                {spec.secondName}, {spec.unit}
              </th>
            )}
            <th scope="col">Notes</th>
          </tr>
        </thead>
        <tbody>
          {spec.points
            .toSorted((a, b) => b.day - a.day)
            .map((point) => (
              <tr key={`${point.day} ${point.value}`}>
                <td>{isoDate(point.day)}</td>
                <td className="number">{figure(point.value)}</td>
                {spec.secondName !== null && <td className="number">{figure(point.second)}</td>}
                <td>{notesOf(point, spec.decimals)}</td>
              </tr>
            ))}
        </tbody>
      </DataTable>
      {spec.forecast.length > 0 && (
        <DataTable label={`${spec.title}: forecast`} captionShown small>
          <thead>
            <tr>
              <th scope="col">Day</th>
              <th scope="col" className="number">
                Middle, {spec.unit}
              </th>
              <th scope="col" className="number">
                8 in 10
              </th>
              <th scope="col" className="number">
                95 in 100
              </th>
            </tr>
          </thead>
          <tbody>
            {spec.forecast.map((each) => (
              <tr key={each.day}>
                <td>{isoDate(each.day)}</td>
                <td className="number">{figure(each.median)}</td>
                <td className="number">
                  {figure(each.low80)} to {figure(each.high80)}
                </td>
                <td className="number">
                  {figure(each.low95)} to {figure(each.high95)}
                </td>
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
    </details>
  );
}
