import type { ReactNode } from 'react';
import styles from './banner.module.css';

interface BannerProps {
  /** `demo` is quiet; `alarm` is for what every page must say, such as a broken ledger. */
  readonly kind: 'demo' | 'alarm';
  readonly children: ReactNode;
}

export function Banner({ kind, children }: BannerProps) {
  return (
    <p
      className={kind === 'alarm' ? styles.alarm : styles.demo}
      role={kind === 'alarm' ? 'alert' : undefined}
    >
      {children}
    </p>
  );
}

export function DemoBanner() {
  return (
    <Banner kind="demo">
      <b>Demo.</b> An invented fleet with invented people. Its sign-ins exist only in this demo.
    </Banner>
  );
}
