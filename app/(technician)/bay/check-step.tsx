'use client';

import { useState } from 'react';
import { withPoint } from '@/lib/bay-card/apply-key';
import type { Concern } from '@/lib/bay-card/concern';
import type { CouldNotField, Draft, EntryField, Step } from '@/lib/bay-card/draft';
import type { BayUnit } from '@/lib/bay-card/snapshot';
import { formatPressure } from '@/lib/measure';
import styles from './bay.module.css';
import type { StepProps } from './reading-steps';
import { AskedFor, Foot } from './screen';
import type { Bay } from './use-bay';
import { useJudged } from './use-judged';

interface CheckStepProps extends StepProps {
  readonly bay: Bay;
  readonly unit: BayUnit | undefined;
  readonly concerns: () => readonly Concern[];
}

/** Keeping a reading takes longer than a frame: the touch is answered before. */
const nextFrame = () => new Promise((resolve) => requestAnimationFrame(() => setTimeout(resolve)));

export function CheckStep({ draft, touch, back, bay, unit, concerns }: CheckStepProps) {
  const [isPutting, setIsPutting] = useState(false);
  const readingToKeep = useJudged(draft, unit, bay);
  const person = bay.snapshot?.person;
  const put = async () => {
    const odd = concerns();
    if (odd.length > 0) return touch({ type: 'next', concerns: odd });
    setIsPutting(true);
    await nextFrame();
    if (!(await bay.keep(await readingToKeep()))) setIsPutting(false);
  };
  return (
    <>
      <AskedFor title="Check it">
        {isPutting ? 'Keeping it on this device.' : 'Touch a value to correct it.'}
      </AskedFor>
      <div className={`${styles.list} ${styles.rows}`}>
        {rowsOf(draft, unit).map(({ step, name, value }) => (
          <button key={step} type="button" onClick={() => touch({ type: 'go to', step })}>
            {name}
            <b>{value}</b>
          </button>
        ))}
      </div>
      <p className={styles.note}>
        Signed as <b>{draft.signerName}</b>
        {person && person.id !== draft.signedBy && `, who began it. Signed in: ${person.name}.`}
      </p>
      <Foot back={back}>
        <button type="button" className={styles.main} disabled={isPutting} onClick={put}>
          Put on record
        </button>
      </Foot>
    </>
  );
}

interface Row {
  readonly step: Step;
  readonly name: string;
  readonly value: string;
}

/** The value of last time shows only here, once the new one is keyed. */
function rowsOf(draft: Draft, unit: BayUnit | undefined): readonly Row[] {
  const { entries, traced, couldNot, pressureUnit, distanceUnit } = draft;
  const newest = unit?.input.readings.at(-1);
  const not = (field: CouldNotField) => (couldNot[field] ? `not: ${couldNot[field]}` : '–');
  const measured = (entry: EntryField, field: CouldNotField, unit: string) => {
    const figure = traced?.[entry];
    if (figure !== undefined) return `${figure} ${unit}, trace`;
    return entries[entry] === '' ? not(field) : `${withPoint(entries[entry])} ${unit}`;
  };
  const last =
    newest?.idle == null
      ? ''
      : ` (last ${formatPressure(newest.idle, pressureUnit).split(' ')[0]})`;
  return [
    { step: 'line', name: 'Line', value: couldNot.line ? not('line') : (draft.line ?? '–') },
    {
      step: 'idle',
      name: `Idle${last}`,
      value: measured('idle', 'idle', pressureUnit),
    },
    ...(entries.raised === ''
      ? []
      : [
          {
            step: 'raised' as const,
            name: 'Raised speed',
            value: measured('raised', 'idle', pressureUnit),
          },
        ]),
    {
      step: 'lowest',
      name: 'Lowest, 4 presses',
      value: measured('lowest', 'lowest', pressureUnit),
    },
    {
      step: 'presses',
      name: draft.isRecoveryKeyed && entries.recovery !== '' ? 'Recovery, keyed' : 'Recovery',
      value: measured('recovery', 'recovery', 's'),
    },
    { step: 'pedal', name: 'Pedal', value: draft.pedal ?? not('pedal') },
    {
      step: 'held',
      name: `${traced?.heldAfter === undefined ? 'Left after' : 'Lost in'} ${draft.holdTimeS ?? 60} s`,
      value: measured('heldAfter', 'holdLoss', pressureUnit),
    },
    {
      step: 'odometer',
      name: 'Odometer',
      value:
        entries.odometer === ''
          ? not('odometer')
          : `${Number(entries.odometer).toLocaleString('en-US')} ${distanceUnit}`,
    },
    { step: 'belt', name: 'Belt, if seen', value: draft.belt ?? 'add' },
  ];
}
