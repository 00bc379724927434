'use client';

import { momentNow } from '@/app/_offline/moment-now';
import { withPoint } from '@/lib/bay-card/apply-key';
import styles from './bay.module.css';
import type { StepProps } from './reading-steps';
import { AskedFor, Foot } from './screen';
import { useRecovery } from './use-watch';

export function WatchStep(props: StepProps) {
  return props.draft.step === 'hold' ? <HoldStart {...props} /> : <RecoveryWatch {...props} />;
}

function RecoveryWatch({ draft, touch, back }: StepProps) {
  const seconds = useRecovery(draft);
  const { idle, recovery } = draft.entries;
  const isRunning = seconds !== null;
  const press = () => touch({ type: isRunning ? 'stop watch' : 'start watch', at: momentNow() });
  return (
    <>
      <AskedFor
        title={
          isRunning
            ? `Stop when the needle is back near ${withPoint(idle)}`
            : 'Press the pedal four times, then start'
        }
      >
        {isRunning
          ? 'Keep the lowest point of the needle in mind.'
          : 'Full presses, one a second. Touch as you let go of the fourth.'}
      </AskedFor>
      <button
        type="button"
        className={`${styles.watch} ${isRunning ? styles.running : ''}`}
        // A watch starts when the finger lands, not when it lifts.
        onPointerDown={press}
        onClick={(event) => event.detail === 0 && press()}
      >
        <span>{isRunning ? seconds.toFixed(1) : '4×'}</span>
        {isRunning ? 'STOP' : 'START'}
      </button>
      <Foot back={back}>
        <button type="button" onClick={() => touch({ type: 'could not', field: 'recovery' })}>
          Could not
        </button>
        {recovery !== '' && !isRunning ? (
          <button type="button" onClick={() => touch({ type: 'next', concerns: [] })}>
            Keep {withPoint(recovery)} s
          </button>
        ) : (
          <button type="button" onClick={() => touch({ type: 'go to', step: 'recovery' })}>
            Key the seconds
          </button>
        )}
      </Foot>
    </>
  );
}

function HoldStart({ touch, back }: StepProps) {
  return (
    <>
      <AskedFor title="Switch the engine off, then start">
        The vacuum must hold for 60 seconds. Key the odometer meanwhile.
      </AskedFor>
      <button
        type="button"
        className={styles.watch}
        onClick={() => touch({ type: 'start watch', at: momentNow() })}
      >
        <span>60 s</span>
        START
      </button>
      <Foot back={back}>
        <button type="button" onClick={() => touch({ type: 'could not', field: 'holdLoss' })}>
          Could not
        </button>
      </Foot>
    </>
  );
}
