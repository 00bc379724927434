'use client';

import { useState } from 'react';
import type { KeptReading } from '@/app/_offline/kept-reading';
import { MarkGlyph } from '@/app/_ui/mark';
import { SignalWord } from '@/app/_ui/signal-word';
import { ambientPressureAt } from '@/lib/atmosphere';
import { type Call, callOf } from '@/lib/bay-card/call-of';
import styles from './bay.module.css';
import { BayHead } from './screen';
import { unitMoment } from './unit-moment';
import type { Bay } from './use-bay';

interface CallScreenProps {
  readonly reading: KeptReading;
  readonly bay: Bay;
  readonly measureAgain: () => void;
}

/** Mark; may it go out; hazard; do now; numbers against limits; kept or on record: always in this order. */
export function CallScreen({ reading, bay, measureAgain }: CallScreenProps) {
  const call = shownCall(reading, bay);
  const own = reading.judged?.assessment.mark;
  const [isWhyShown, setIsWhyShown] = useState(false);
  const isOverruled =
    reading.answer !== null && own !== undefined && own !== reading.answer.assessment.mark;
  return (
    <>
      <BayHead title={`Unit ${reading.unitId}`} step="The call" signal={bay.signal} />
      <section className={styles.call} aria-live="polite">
        {call ? (
          isWhyShown ? (
            <WhyWords call={call} />
          ) : (
            <CallWords call={call} />
          )
        ) : (
          <h1>
            No call yet: this device knows no history of the unit. Ask the desk before it goes.
          </h1>
        )}
        {isOverruled && (
          <p className={styles.note}>
            This device judged <b>{own ?? 'no mark'}</b>. The desk knew more and judged{' '}
            <b>{reading.answer?.assessment.mark ?? 'no mark'}</b>. Both are in the ledger.
          </p>
        )}
        <KeptWords reading={reading} bay={bay} />
      </section>
      <div className={styles.foot}>
        <button type="button" onClick={measureAgain}>
          Measure again
        </button>
        {call && (
          <button type="button" onClick={() => setIsWhyShown(!isWhyShown)}>
            {isWhyShown ? 'The call' : 'Why'}
          </button>
        )}
        <button type="button" className={styles.main} onClick={() => void bay.nextUnit()}>
          Next unit
        </button>
      </div>
    </>
  );
}

const visitMs = 12 * 3_600_000;

function isSameVisit(one: KeptReading, reading: KeptReading): boolean {
  const apart = Date.parse(reading.payload.readAt) - Date.parse(one.payload.readAt);
  return one.unitId === reading.unitId && apart > 0 && apart < visitMs;
}

const idleWords = ({ payload: { keyed } }: KeptReading): string =>
  keyed.idle ? `${keyed.idle.value} ${keyed.idle.unit}` : 'not read';

function shownCall({ judged, answer, payload, heardOn }: KeptReading, bay: Bay): Call | null {
  const assessment = answer?.assessment ?? judged?.assessment;
  const unit = bay.snapshot?.units.find(({ id }) => id === payload.unitId);
  if (!assessment || !judged || !bay.snapshot || !unit) return null;
  return callOf(assessment, judged.reading, {
    judgedBy: answer ? 'the desk' : { heardOn: heardOn ?? 'never' },
    limits: bay.snapshot.limits,
    ambient: ambientPressureAt(unit.input.unit.elevation),
    pressureUnit: bay.snapshot.person.pressureUnit,
    isProof: payload.isProof,
    isOwnRepair: unit.proof?.certifiedBy === payload.signedBy,
  });
}

/** All figures, the first reason, the probable cause: one touch away, so that the call fits the screen. */
function WhyWords({ call }: { readonly call: Call }) {
  return (
    <>
      <h1 className={styles.verdict}>Why</h1>
      {call.why && <p>{call.why}</p>}
      <Figures figures={call.figures} />
      {call.cause && <p>{call.cause}</p>}
      <p>
        Service information in force, local law and a licensed technician come before this call.
      </p>
    </>
  );
}

function CallWords({ call }: { readonly call: Call }) {
  const figures = call.hazard ? call.figures.filter(({ isPast }) => isPast) : call.figures;
  return (
    <>
      <h1>
        {call.mark && <MarkGlyph mark={call.mark} size={30} />} {call.mark ?? 'No mark'}
      </h1>
      <p className={styles.verdict}>{call.verdict}</p>
      {call.hazard && (
        <SignalWord signal="WARNING">
          <p>
            <b>{call.hazard}</b>
          </p>
        </SignalWord>
      )}
      {call.proof && <p className={styles.note}>{call.proof.says}</p>}
      <ul>
        {call.doNow.map((one) => (
          <li key={one}>{one}</li>
        ))}
      </ul>
      {call.why && !call.hazard && <p>{call.why}</p>}
      {figures.length > 0 && <Figures figures={figures} />}
    </>
  );
}

function Figures({ figures }: Pick<Call, 'figures'>) {
  return (
    <table className={styles.figures}>
      <thead>
        <tr>
          <th scope="col">Measured</th>
          <th scope="col">Read</th>
          <th scope="col">Book in</th>
          <th scope="col">Stop</th>
        </tr>
      </thead>
      <tbody>
        {figures.map(({ name, read, bookIn, stop, isPast }) => (
          <tr key={name} className={isPast ? styles.past : undefined}>
            <th scope="row">{name}</th>
            <td>{read}</td>
            <td>{bookIn}</td>
            <td>{stop}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

/** Hour and minute at which the server took it. */
const takenAt = ({ unitId, answer }: KeptReading, { snapshot }: Bay): string =>
  answer ? unitMoment(new Date(answer.at), unitId, snapshot).slice(11) : '';

function KeptWords({ reading, bay }: Pick<CallScreenProps, 'reading' | 'bay'>) {
  const before = bay.outbox.findLast((one) => isSameVisit(one, reading));
  const both = before && (
    <>
      <br />
      Idle {idleWords(before)}, measured again {idleWords(reading)}: both kept.
    </>
  );
  if (reading.answer) {
    return (
      <p className={styles.kept} role="status">
        ☑ <b>On record</b> {takenAt(reading, bay)}, entry {reading.answer.entry}
        {both}
      </p>
    );
  }
  if (reading.refusal) {
    return (
      <p className={styles.kept} role="alert">
        ▣ <b>Kept, but not taken.</b> {reading.refusal.title} Mend it under Kept here.
        {both}
      </p>
    );
  }
  return (
    <p className={styles.kept} role="status">
      ▣ <b>Kept on this device.</b>{' '}
      {bay.signal === 'sign in again'
        ? 'Sign in again and it sends itself.'
        : 'It sends itself when there is signal. Open this page again today.'}
      {both}
    </p>
  );
}
