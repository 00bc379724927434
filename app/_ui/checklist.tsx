import type { ReactNode } from 'react';
import styles from './checklist.module.css';

export interface CheckItem {
  readonly key: string;
  readonly done: boolean;
  readonly text: ReactNode;
}

interface ChecklistProps {
  readonly items: readonly CheckItem[];
}

export function Checklist({ items }: ChecklistProps) {
  return (
    <ul className={styles.list}>
      {items.map(({ key, done, text }) => (
        <li key={key}>
          <svg className={styles.box} width="14" height="14" viewBox="0 0 14 14" aria-hidden="true">
            <rect x="1" y="1" width="12" height="12" />
            {done && <path d="M3.5 7.2l2.4 2.6 4.6-5.6" />}
          </svg>
          <span>
            <span className="visually-hidden">{done ? 'Done: ' : 'Open: '}</span>
            {text}
          </span>
        </li>
      ))}
    </ul>
  );
}
