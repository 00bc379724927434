'use client';

import { useState } from 'react';
import { parseTraceCsv, type TraceColumns, unitIn } from '@/lib/intake/trace-csv';
import { traceLayout } from '@/lib/intake/trace-layout';
import { type PressureUnit, pressureUnits } from '@/lib/measure';
import styles from '../bay.module.css';
import { AskedFor, Foot } from '../screen';
import trace from './trace.module.css';

interface MapColumnsProps {
  readonly text: string;
  readonly name: string;
  readonly gaugeUnit: PressureUnit;
  readonly choose: (columns: TraceColumns) => void;
  readonly back: () => void;
}

/** Which column is which: asked once for a gauge's heading, with what the heading suggests chosen. */
export function MapColumns({ text, name, gaugeUnit, choose, back }: MapColumnsProps) {
  const layout = traceLayout(text);
  const headings = layout?.rows[layout.firstRow]?.map(
    (value, index) => `${layout.heading[index] || `Column ${index + 1}`} (${value})`,
  );
  const suggested = layout?.heading[layout.pressure] ?? '';
  const [time, setTime] = useState((layout?.time ?? 0) + 1);
  const [pressure, setPressure] = useState((layout?.pressure ?? 1) + 1);
  const [unit, setUnit] = useState<PressureUnit>(unitIn(suggested) ?? gaugeUnit);
  const columns: TraceColumns = { time, pressure, pressureUnit: unit };
  const parsed = parseTraceCsv(text, columns);
  const [problem] = parsed.ok ? [] : parsed.error;
  return (
    <>
      <AskedFor title="Which column is which?">{name.slice(0, 40)}</AskedFor>
      <div className={trace.columns}>
        {(
          [
            ['Time', time, setTime],
            ['Vacuum', pressure, setPressure],
          ] as const
        ).map(([label, value, set]) => (
          <label key={label}>
            {label}
            <select value={value} onChange={({ target }) => set(Number(target.value))}>
              {headings?.map((heading, index) => (
                <option key={heading} value={index + 1}>
                  {heading}
                </option>
              ))}
            </select>
          </label>
        ))}
        <label>
          Unit of the vacuum
          <select value={unit} onChange={({ target }) => setUnit(target.value as PressureUnit)}>
            {pressureUnits.map((one) => (
              <option key={one}>{one}</option>
            ))}
          </select>
        </label>
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
