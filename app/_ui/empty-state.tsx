import type { ReactNode } from 'react';
import styles from './empty-state.module.css';

interface EmptyStateProps {
  /** What is empty and what to do about it, e.g. "Never read. Read it." */
  readonly children: ReactNode;
  readonly action?: ReactNode;
}

export function EmptyState({ children, action }: EmptyStateProps) {
  return (
    <div className={styles.empty}>
      <p>{children}</p>
      {action}
    </div>
  );
}
