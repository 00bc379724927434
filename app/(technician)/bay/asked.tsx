'use client';

import { couldNotReasons } from '@/lib/intake/could-not-reasons';
import { pressureUnits } from '@/lib/measure';
import styles from './bay.module.css';
import type { StepProps } from './reading-steps';
import { AskedFor, Choice, Foot } from './screen';

const isUnit = (text: string): boolean => (pressureUnits as readonly string[]).includes(text);
const capital = (text: string): string =>
  isUnit(text) ? text : text.replace(/^./, (first) => first.toUpperCase());

export function AskWhyNot({ touch, back }: StepProps) {
  return (
    <>
      <AskedFor title="Why not?" />
      <div className={styles.choices}>
        {couldNotReasons.map((reason) => (
          <Choice
            key={reason}
            title={capital(reason)}
            onClick={() => touch({ type: 'give reason', reason })}
          />
        ))}
      </div>
      <Foot back={back} />
    </>
  );
}

/** What is odd about a value: one more touch lets it stand, or mends it. What cannot be is keyed again. */
export function AskConcern({ draft, touch, back }: StepProps) {
  const { asking } = draft;
  if (!asking) return null;
  return (
    <>
      <AskedFor title={asking.id === null ? 'That cannot be' : 'Is that right?'} />
      <p className={styles.note} role="alert">
        {asking.message}
      </p>
      <div className={styles.choices}>
        {asking.choices.map((choice) => (
          <Choice
            key={choice}
            title={capital(choice)}
            onClick={() => touch({ type: 'answer', choice })}
          />
        ))}
      </div>
      <Foot back={back} />
    </>
  );
}
