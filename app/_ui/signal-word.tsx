import type { ReactNode } from 'react';
import styles from './signal-word.module.css';

/**
 * Meanings after ANSI Z535.6: danger will, warning could kill or seriously injure; caution could
 * injure lightly; notice concerns no injury and so carries no alert symbol.
 */
export type Signal = 'DANGER' | 'WARNING' | 'CAUTION' | 'NOTICE';

interface SignalWordProps {
  readonly signal: Signal;
  readonly children: ReactNode;
}

const weightOf: Record<Signal, string | undefined> = {
  DANGER: styles.danger,
  WARNING: styles.warning,
  CAUTION: styles.caution,
  NOTICE: styles.notice,
};

export function SignalWord({ signal, children }: SignalWordProps) {
  return (
    <div className={`${styles.box} ${weightOf[signal]} keep-together`}>
      <p className={styles.word}>
        {signal !== 'NOTICE' && (
          <svg width="20" height="18" viewBox="0 0 20 18" aria-hidden="true">
            <path className={styles.triangle} d="M10 .8l9.4 16.4H.6z" />
            <path className={styles.stroke} d="M10 6v5.4M10 13.2v1.9" />
          </svg>
        )}
        {signal}
      </p>
      <div className={styles.text}>{children}</div>
    </div>
  );
}
