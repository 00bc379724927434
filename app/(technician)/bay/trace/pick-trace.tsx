'use client';

import { useId } from 'react';
import styles from '../bay.module.css';
import { AskedFor, Foot } from '../screen';
import trace from './trace.module.css';

interface PickTraceProps {
  readonly trouble: string | null;
  readonly pick: (file: File) => void;
  readonly back: () => void;
}

export function PickTrace({ trouble, pick, back }: PickTraceProps) {
  const id = useId();
  return (
    <>
      <AskedFor title="The gauge’s trace">
        Log idle for 6 s, four presses, the recovery, then 60 s with the engine off.
      </AskedFor>
      {trouble && (
        <p className={styles.note} role="alert">
          {trouble}
        </p>
      )}
      <div className={styles.choices}>
        <label className={trace.file} htmlFor={id}>
          Choose the gauge’s file
          <small>CSV with a time and a pressure column</small>
          <input
            id={id}
            type="file"
            accept=".csv,.txt,.tsv,text/csv,text/plain,text/tab-separated-values"
            onChange={({ target }) => {
              const [file] = target.files ?? [];
              if (file) pick(file);
              target.value = '';
            }}
          />
        </label>
      </div>
      <Foot back={back} />
    </>
  );
}
