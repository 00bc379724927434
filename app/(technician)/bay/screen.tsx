'use client';

import { type ReactNode, useEffect, useRef } from 'react';
import styles from './bay.module.css';
import type { Bay } from './use-bay';

const signalWords: Record<Bay['signal'], string> = {
  signal: 'Signal',
  'no signal': 'No signal',
  'sign in again': 'Sign in again',
  'not yours': 'Signed in as another',
};

interface HeadProps {
  readonly title: string;
  readonly step?: string;
  readonly signal: Bay['signal'];
}

export function BayHead({ title, step, signal }: HeadProps) {
  return (
    <header className={styles.head}>
      <b>{title}</b>
      {step && <span>{step}</span>}
      {signal === 'sign in again' ? (
        <a href="/sign-in?to=/bay">Sign in again</a>
      ) : (
        <span role="status">
          <span aria-hidden="true">{signal === 'signal' ? '▢ ' : '▣ '}</span>
          {signalWords[signal]}
        </span>
      )}
    </header>
  );
}

interface QuestionProps {
  readonly title: string;
  readonly children?: ReactNode;
}

/** The heading of a screen takes the focus, so that a screen reader says where the card has gone. */
export function AskedFor({ title, children }: QuestionProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new title is a new screen
  useEffect(() => heading.current?.focus({ preventScroll: true }), [title]);
  return (
    <section className={styles.question}>
      <h1 ref={heading} tabIndex={-1}>
        {title}
      </h1>
      {children && <p>{children}</p>}
    </section>
  );
}

interface ChoiceProps {
  readonly title: string;
  readonly note?: string;
  readonly onClick: () => void;
}

export function Choice({ title, note, onClick }: ChoiceProps) {
  return (
    <button type="button" className={styles.choice} onClick={onClick}>
      {title}
      {note && <small>{note}</small>}
    </button>
  );
}

interface FootProps {
  readonly back: () => void;
  readonly children?: ReactNode;
}

export function Foot({ back, children }: FootProps) {
  return (
    <div className={styles.foot}>
      <button type="button" onClick={back}>
        Back
      </button>
      {children}
    </div>
  );
}
