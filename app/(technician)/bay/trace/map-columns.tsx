'use client';

import { useState } from 'react';
import { parseTraceCsv, type TraceColumns } from '@/lib/intake/trace-csv';
import { traceLayout } from '@/lib/intake/trace-layout';
import {
  pressureUnitIn,
  timeUnitIn,
  tracePressureUnits,
  traceTimeUnits,
} from '@/lib/intake/trace-units';
import type { PressureUnit } from '@/lib/measure';
import styles from '../bay.module.css';
import { AskedFor, Foot } from '../screen';
import trace from './trace.module.css';

interface MapColumnsProps {
  readonly text: string;
  readonly name: string;
  /** As chosen before, where they are chosen again. */
  readonly chosen: TraceColumns | null;
  readonly gaugeUnit: PressureUnit;
  readonly choose: (columns: TraceColumns) => void;
  readonly back: () => void;
}

/** Which column is which: asked once for a gauge's heading, with what the heading suggests chosen. */
export function MapColumns({ text, name, chosen, gaugeUnit, choose, back }: MapColumnsProps) {
  const layout = traceLayout(text);
  const headings =
    layout?.rows[layout.firstRow]?.map(
      (value, index) =>
        [index + 1, `${layout.heading[index] || `Column ${index + 1}`} (${value})`] as const,
    ) ?? [];
  const headingOf = (column: number) => layout?.heading[column - 1] ?? '';
  const [columns, setColumns] = useState<TraceColumns>(() => {
    const time = (layout?.time ?? 0) + 1;
    const pressure = (layout?.pressure ?? 1) + 1;
    const pressureUnit = pressureUnitIn(headingOf(pressure)) ?? gaugeUnit;
    return chosen ?? { time, pressure, timeUnit: timeUnitIn(headingOf(time)), pressureUnit };
  });
  const change = (changed: Partial<TraceColumns>) => setColumns({ ...columns, ...changed });
  const parsed = parseTraceCsv(text, columns);
  const [problem] = parsed.ok ? [] : parsed.error;
  return (
    <>
      <AskedFor title="Which column is which?">{name.slice(0, 40)}</AskedFor>
      <div className={trace.columns}>
        <Chosen
          label="Time"
          value={Number(columns.time)}
          options={headings}
          choose={(time) => change({ time, timeUnit: timeUnitIn(headingOf(time)) })}
        />
        <Chosen
          label="Unit of the time"
          value={columns.timeUnit ?? 's'}
          options={traceTimeUnits.map((unit) => [unit, unit])}
          choose={(timeUnit) => change({ timeUnit })}
        />
        <Chosen
          label="Vacuum"
          value={Number(columns.pressure)}
          options={headings}
          choose={(pressure) => change({ pressure })}
        />
        <Chosen
          label="Unit of the vacuum"
          value={columns.pressureUnit ?? gaugeUnit}
          options={tracePressureUnits.map((unit) => [unit, unit])}
          choose={(pressureUnit) => change({ pressureUnit })}
        />
      </div>
      {problem && (
        <p className={styles.note} role="alert">
          {problem.message} {problem.mend}
        </p>
      )}
      <div className={trace.fill} />
      <Foot back={back}>
        <button
          type="button"
          className={styles.main}
          disabled={!parsed.ok}
          onClick={() => choose(columns)}
        >
          Read it
        </button>
      </Foot>
    </>
  );
}

interface ChosenProps<Value> {
  readonly label: string;
  readonly value: Value;
  readonly options: readonly (readonly [Value, string])[];
  readonly choose: (value: Value) => void;
}

function Chosen<Value extends string | number>(props: ChosenProps<Value>) {
  const { label, value, options, choose } = props;
  return (
    <label>
      {label}
      <select
        value={value}
        onChange={({ target }) => {
          const option = options[target.selectedIndex];
          if (option) choose(option[0]);
        }}
      >
        {options.map(([one, text]) => (
          <option key={one} value={one}>
            {text}
          </option>
        ))}
      </select>
    </label>
  );
}
