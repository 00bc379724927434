'use client';

import { useEffect } from 'react';
import type { Key } from '@/lib/bay-card/apply-key';
import styles from './bay.module.css';

const keys: readonly { readonly key: Key; readonly label: string }[] = [
  ...(['1', '2', '3', '4', '5', '6', '7', '8', '9'] as const).map((key) => ({ key, label: key })),
  { key: 'clear', label: 'Clear' },
  { key: '0', label: '0' },
  { key: 'delete', label: 'Delete' },
];

interface KeyPadProps {
  readonly press: (key: Key) => void;
  readonly next: () => void;
}

/** Keys of a glove's size; a keyboard's digits, Backspace and Enter do the same. */
export function KeyPad({ press, next }: KeyPadProps) {
  useEffect(() => {
    const typed = (event: KeyboardEvent) => {
      if (event.ctrlKey || event.metaKey || event.altKey) return;
      if (/^\d$/.test(event.key)) press(event.key as Key);
      else if (event.key === 'Backspace') press('delete');
      else if (event.key === 'Enter' && !(event.target instanceof HTMLButtonElement)) next();
    };
    window.addEventListener('keydown', typed);
    return () => window.removeEventListener('keydown', typed);
  }, [press, next]);
  return (
    <div className={styles.pad}>
      {keys.map(({ key, label }) => (
        <button
          key={key}
          type="button"
          className={label.length > 1 ? styles.word : undefined}
          onClick={() => press(key)}
        >
          {label}
        </button>
      ))}
    </div>
  );
}
