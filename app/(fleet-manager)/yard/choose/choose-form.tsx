'use client';

import { useActionState, useState } from 'react';
import { Button } from '@/app/_ui/button';
import { DataTable } from '@/app/_ui/data-table';
import { ErrorSummary } from '@/app/_ui/error-summary';
import { MarkTag } from '@/app/_ui/mark';
import { StatusLine } from '@/app/_ui/status-line';
import type { Mark } from '@/lib/analysis/assessment';
import { actOnUnits } from './actions';

export interface ChoosableRow {
  readonly unit: string;
  readonly shed: string;
  readonly mark: Mark | null;
  readonly why: string;
  readonly next: string;
}

export function ChooseForm({ rows }: { readonly rows: readonly ChoosableRow[] }) {
  const [chosen, setChosen] = useState<ReadonlySet<string>>(new Set());
  const [state, act, isBusy] = useActionState(actOnUnits, { problems: [], said: null });
  const areAll = chosen.size === rows.length;
  const toggle = (unit: string) =>
    setChosen((before) => {
      const after = new Set(before);
      if (!after.delete(unit)) after.add(unit);
      return after;
    });
  return (
    <form action={act} className="stack">
      <ErrorSummary problems={state.problems} />
      <div className="row" id="chosen">
        <Button type="submit" name="act" value="place" main disabled={isBusy}>
          Place in plan
        </Button>
        <Button type="submit" name="act" value="read" disabled={isBusy}>
          Schedule readings
        </Button>
        <span>{chosen.size} chosen</span>
      </div>
      <StatusLine>{state.said}</StatusLine>
      <DataTable label="Units to choose from">
        <thead>
          <tr>
            <th scope="col">
              <input
                type="checkbox"
                aria-label="All of them"
                checked={areAll}
                onChange={() => setChosen(new Set(areAll ? [] : rows.map(({ unit }) => unit)))}
              />
            </th>
            <th scope="col">Unit</th>
            <th scope="col">Mark</th>
            <th scope="col">Shed</th>
            <th scope="col">Why</th>
            <th scope="col">Next</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ unit, shed, mark, why, next }) => (
            <tr key={unit}>
              <td>
                <input
                  type="checkbox"
                  name="unit"
                  value={unit}
                  id={`choose-${unit}`}
                  checked={chosen.has(unit)}
                  onChange={() => toggle(unit)}
                />
              </td>
              <th scope="row">
                <label htmlFor={`choose-${unit}`}>{unit}</label>
              </th>
              <td>{mark && <MarkTag mark={mark} />}</td>
              <td>{shed}</td>
              <td className="words">{why}</td>
              <td>{next}</td>
            </tr>
          ))}
        </tbody>
      </DataTable>
    </form>
  );
}
