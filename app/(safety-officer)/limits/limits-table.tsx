import { DataTable } from '@/app/_ui/data-table';
import {
  type LimitUnits,
  type LimitValues,
  limitFigure,
  limitRows,
  limitUnit,
} from '@/lib/intake/limit-rows';

interface LimitsTableProps {
  readonly label: string;
  readonly values: LimitValues;
  /** Shown beside the values, where they differ. */
  readonly proposed?: LimitValues;
  readonly units: LimitUnits;
}

export function LimitsTable({ label, values, proposed, units }: LimitsTableProps) {
  const rows = proposed
    ? limitRows.filter(({ name }) => values[name] !== proposed[name])
    : limitRows;
  return (
    <DataTable label={label}>
      <thead>
        <tr>
          <th scope="col">Limit</th>
          <th scope="col" className="number">
            {proposed ? 'In force' : 'Value'}
          </th>
          {proposed && (
            <th scope="col" className="number">
              Proposed
            </th>
          )}
          <th scope="col">Unit</th>
          {!proposed && <th scope="col">Basis of the default</th>}
        </tr>
      </thead>
      <tbody>
        {rows.map(({ name, label: words, quantity, basis }) => (
          <tr key={name}>
            <th scope="row">{words}</th>
            <td className="number">{limitFigure(values[name], quantity, units)}</td>
            {proposed && (
              <td className="number">
                <b>{limitFigure(proposed[name], quantity, units)}</b>
              </td>
            )}
            <td>{limitUnit(quantity, units)}</td>
            {!proposed && <td className="small">{basis}</td>}
          </tr>
        ))}
      </tbody>
    </DataTable>
  );
}
