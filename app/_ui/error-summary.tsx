'use client';

import { useEffect, useRef } from 'react';
import type { Problem } from '@/lib/result';
import styles from './error-summary.module.css';

interface ErrorSummaryProps {
  /** Each problem's `field` is the id of the control to mend. */
  readonly problems: readonly Problem[];
}

/** Takes the focus whenever a new set of problems comes back. */
export function ErrorSummary({ problems }: ErrorSummaryProps) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (problems.length > 0) box.current?.focus();
  }, [problems]);
  if (problems.length === 0) return null;
  return (
    <div ref={box} role="alert" tabIndex={-1} className={styles.box}>
      <h2>{problems.length === 1 ? 'One thing to mend' : `${problems.length} things to mend`}</h2>
      <ul>
        {problems.map(({ field, line, message, mend }) => (
          <li key={`${field} ${line} ${message}`}>
            <a href={`#${field}`}>
              {line === undefined ? '' : `Line ${line}: `}
              {message}
            </a>{' '}
            {mend}
          </li>
        ))}
      </ul>
    </div>
  );
}
