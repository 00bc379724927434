'use client';

import type { KeptReading } from '@/app/_offline/kept-reading';
import type { Draft } from '@/lib/bay-card/draft';
import styles from './bay.module.css';
import { AskedFor, BayHead, Foot } from './screen';
import { unitMoment } from './unit-moment';
import type { Bay } from './use-bay';

interface KeptScreenProps {
  readonly bay: Bay;
  readonly close: () => void;
}

/** Every reading that this device keeps, what the server said of it, and the way to mend it. */
export function KeptScreen({ bay, close }: KeptScreenProps) {
  return (
    <>
      <BayHead title="Kept here" signal={bay.signal} />
      <AskedFor title="Readings on this device">
        {bay.signal === 'sign in again' && 'Sign in again: they send themselves then.'}
      </AskedFor>
      <ul className={styles.entries}>
        {[...bay.outbox].reverse().map((reading) => (
          <li key={reading.id}>
            <span>
              <b>Unit {reading.unitId}</b>,{' '}
              {unitMoment(new Date(reading.payload.readAt), reading.unitId, bay.snapshot)},{' '}
              {reading.signerName}
            </span>
            <span>{stateWords(reading)}</span>
            {reading.answer && bay.signal === 'signal' && (
              <a className={styles.link} href={`/bay/amend/${reading.id}`}>
                Amend it
              </a>
            )}
            {reading.refusal && (
              <button
                type="button"
                onClick={() => {
                  void bay.mend(reading, draftToMend(reading));
                  close();
                }}
              >
                Mend it
              </button>
            )}
          </li>
        ))}
      </ul>
      <Foot back={close} />
    </>
  );
}

function stateWords({ state, answer, refusal }: KeptReading): string {
  if (answer) return `On record, entry ${answer.entry}.`;
  if (state === 'waiting') return 'Kept on this device, not sent yet.';
  const said = [
    ...(refusal?.problems ?? []).map(({ message, mend }) => `${message} ${mend}`),
    ...(refusal?.questions ?? []).map(({ message }) => message),
  ];
  return [refusal?.title, ...said].join(' ');
}

/** Back at the check, with the desk's question asked; under a new id where the old one is another's. */
function draftToMend({ draft, refusal }: KeptReading): Draft {
  const [question] = refusal?.questions ?? [];
  const [problem] = refusal?.problems ?? [];
  const asked = question
    ? { ...question, field: 'idle' as const }
    : problem && {
        id: null,
        field: 'idle' as const,
        message: `${problem.message} ${problem.mend}`,
        choices: [],
      };
  return {
    ...draft,
    id: refusal?.status === 409 ? crypto.randomUUID() : draft.id,
    step: 'check',
    asking: asked ?? null,
  };
}
