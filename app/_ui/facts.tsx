import { Fragment, type ReactNode } from 'react';
import styles from './facts.module.css';

export interface Fact {
  readonly term: string;
  readonly value: ReactNode;
}

interface FactsProps {
  readonly facts: readonly Fact[];
  /** `line` runs the facts on in one wrapping line; `list` sets one below the other. */
  readonly shape?: 'list' | 'line';
}

export function Facts({ facts, shape = 'list' }: FactsProps) {
  if (shape === 'line') {
    return (
      <dl className={styles.line}>
        {facts.map(({ term, value }) => (
          <div key={term}>
            <dt>{term}</dt> <dd>{value}</dd>
          </div>
        ))}
      </dl>
    );
  }
  return (
    <dl className={styles.list}>
      {facts.map(({ term, value }) => (
        <Fragment key={term}>
          <dt>{term}</dt>
          <dd>{value}</dd>
        </Fragment>
      ))}
    </dl>
  );
}
