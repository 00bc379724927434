'use client';

import type { ReactNode } from 'react';
import { momentNow } from '@/app/_offline/moment-now';
import { ambientPressureAt } from '@/lib/atmosphere';
import { entryOf } from '@/lib/bay-card/advance-draft';
import { withPoint } from '@/lib/bay-card/apply-key';
import { concernsOf } from '@/lib/bay-card/concern';
import type { Draft, EntryField, Step } from '@/lib/bay-card/draft';
import { previousStep, stepLabel } from '@/lib/bay-card/next-step';
import type { BaySnapshot, BayUnit } from '@/lib/bay-card/snapshot';
import { localDay } from '@/lib/calendar';
import { contextOf } from '@/lib/intake/payload-plausibility';
import { AskConcern, AskWhyNot } from './asked';
import styles from './bay.module.css';
import { CheckStep } from './check-step';
import { BeltStep, Cautions, LineStep, PedalStep, RefitStep } from './choice-steps';
import { GaugeStep } from './gauge-step';
import { KeyPad } from './key-pad';
import { traceStep } from './later-parts';
import { AskedFor, BayHead, Foot } from './screen';
import type { Bay } from './use-bay';
import { useLaterPart } from './use-later-part';
import { useRehearsal } from './use-rehearsal';
import { useHoldLeft } from './use-watch';
import { WatchStep } from './watch-step';

interface StepsProps {
  readonly draft: Draft;
  readonly bay: Bay;
  readonly snapshot: BaySnapshot | null;
}

export interface StepProps {
  readonly draft: Draft;
  readonly touch: Bay['touch'];
  readonly back: () => void;
}

/** One screen of the card at a time, by the draft's step. */
export function ReadingSteps({ draft, bay, snapshot }: StepsProps) {
  const unit = snapshot?.units.find(({ id }) => id === draft.unitId);
  const back = () => {
    const isFirst = previousStep(draft) === null && !draft.asking && !draft.askingWhyNot;
    if (isFirst) void bay.leave();
    else bay.touch({ type: 'go back' });
  };
  const props = { draft, touch: bay.touch, back };
  const concerns = () => concernsOfUnit(draft, unit, snapshot);
  useRehearsal(draft, unit, snapshot);
  const TraceStep = useLaterPart(traceStep, draft.step === 'trace');
  const screen = (): ReactNode => {
    if (draft.askingWhyNot) return <AskWhyNot {...props} />;
    if (draft.asking) return <AskConcern {...props} />;
    switch (draft.step) {
      case 'cautions':
        return <Cautions {...props} isOwnRepair={unit?.proof?.certifiedBy === draft.signedBy} />;
      case 'line':
        return <LineStep {...props} />;
      case 'gauge':
        return <GaugeStep {...props} gauges={snapshot?.gauges ?? []} shedId={unit?.shedId} />;
      case 'trace':
        return (
          TraceStep && (
            <TraceStep {...props} ambient={ambientPressureAt(unit?.input.unit.elevation ?? 0)} />
          )
        );
      case 'presses':
      case 'hold':
        return <WatchStep {...props} />;
      case 'pedal':
        return <PedalStep {...props} />;
      case 'refit':
        return <RefitStep {...props} />;
      case 'belt':
        return <BeltStep {...props} />;
      case 'check':
        return <CheckStep {...props} bay={bay} unit={unit} concerns={concerns} />;
      default:
        return <EntryStep {...props} concerns={concerns} />;
    }
  };
  return (
    <>
      <BayHead title={`Unit ${draft.unitId}`} step={stepLabel(draft)} signal={bay.signal} />
      {screen()}
    </>
  );
}

function concernsOfUnit(draft: Draft, unit: BayUnit | undefined, snapshot: BaySnapshot | null) {
  if (!unit) return [];
  const shed = snapshot?.sheds.find(({ id }) => id === unit.shedId);
  const readOn = localDay(new Date(), shed?.timeZone ?? 'UTC');
  const context = contextOf(unit.input.readings, {
    elevation: unit.input.unit.elevation,
    expectedIdleSle: unit.expectedIdleSle,
  });
  return concernsOf(draft, readOn, context);
}

interface Asked {
  readonly title: string;
  readonly note: string;
}

const entrySteps: Partial<Record<Step, Asked>> = {
  idle: { title: 'Idle vacuum', note: 'Engine warm, foot off the pedal.' },
  raised: { title: 'Vacuum at raised speed', note: 'Hold a steady higher speed.' },
  recovery: { title: 'Recovery, seconds', note: 'From the last release to idle again.' },
  lowest: { title: 'Lowest vacuum', note: 'Over the four presses.' },
  odometer: { title: 'Odometer', note: '' },
  held: { title: 'Vacuum left', note: 'Engine still off. Read the needle now.' },
};

function EntryStep({
  draft,
  touch,
  back,
  concerns,
}: StepProps & { concerns: () => ReturnType<typeof concernsOf> }) {
  const left = useHoldLeft(draft);
  const field = entryOf[draft.step] as EntryField;
  const digits = draft.entries[field];
  const asked = entrySteps[draft.step];
  const isHolding = draft.step === 'held' && left > 0;
  const next = () => {
    if (digits !== '') touch({ type: 'next', concerns: concerns() });
  };
  const couldNot = draft.step === 'held' ? 'holdLoss' : draft.step;
  return (
    <>
      <AskedFor title={isHolding ? 'Leave it. Watch the needle' : (asked?.title ?? '')}>
        {draft.step === 'odometer' ? holdWords(draft, left) : !isHolding && asked?.note}
      </AskedFor>
      {isHolding ? (
        <div className={`${styles.watch} ${styles.face}`} role="timer">
          <span>{left}</span>seconds left
        </div>
      ) : (
        <>
          <div className={styles.out} role="status">
            <span>{shown(field, digits)}</span>
            <small>{unitOf(field, draft)}</small>
          </div>
          {draft.step === 'idle' && (
            <div className={styles.pair}>
              <button type="button" onClick={() => touch({ type: 'go to', step: 'trace' })}>
                Trace file
              </button>
              <button type="button" onClick={() => touch({ type: 'go to', step: 'raised' })}>
                {draft.entries.raised === ''
                  ? 'Raised speed'
                  : `Raised ${withPoint(draft.entries.raised)}`}
              </button>
            </div>
          )}
          <KeyPad press={(key) => touch({ type: 'key', key, at: momentNow() })} next={next} />
        </>
      )}
      <Foot back={back}>
        {isCouldNot(couldNot) && (
          <button type="button" onClick={() => touch({ type: 'could not', field: couldNot })}>
            Could not
          </button>
        )}
        <button type="button" className={styles.main} disabled={digits === ''} onClick={next}>
          Next
        </button>
      </Foot>
    </>
  );
}

const isCouldNot = (step: string): step is 'idle' | 'lowest' | 'odometer' | 'holdLoss' =>
  step === 'idle' || step === 'lowest' || step === 'odometer' || step === 'holdLoss';

function holdWords({ watch }: Draft, left: number): string {
  if (watch?.times !== 'hold') return 'As the dash shows it.';
  return left > 0
    ? `Engine off. ${left} s of the hold left.`
    : 'The hold is over: read the needle soon.';
}

function shown(field: EntryField, digits: string): string {
  if (digits === '') return '–';
  return field === 'odometer' ? Number(digits).toLocaleString('en-US') : withPoint(digits);
}

function unitOf(field: EntryField, { pressureUnit, distanceUnit }: Draft): string {
  if (field === 'recovery') return 's';
  return field === 'odometer' ? distanceUnit : pressureUnit;
}
