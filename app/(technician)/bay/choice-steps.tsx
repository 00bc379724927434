'use client';

import type { LineState, PedalState } from '@/lib/analysis/reading';
import styles from './bay.module.css';
import { PhotoChoice } from './photo-choice';
import type { StepProps } from './reading-steps';
import { AskedFor, Choice, Foot } from './screen';

// The steps that are answered by one touch.

const cautions = [
  'Wheels chocked, park brake set',
  'Engine off',
  'Pedal pumped until it is hard',
  'Clear of belts, fan and hot exhaust',
];

interface CautionsProps extends StepProps {
  readonly isOwnRepair: boolean;
}

export function Cautions({ touch, back, isOwnRepair }: CautionsProps) {
  return (
    <>
      <AskedFor title="Before you start" />
      <div className={styles.steps}>
        <ul>
          {cautions.map((caution) => (
            <li key={caution}>{caution}</li>
          ))}
        </ul>
      </div>
      <div className={styles.fill} />
      {isOwnRepair && (
        <p className={styles.note} role="alert">
          You certified this repair: another person must read its proof.
        </p>
      )}
      <p className={styles.note}>Service information in force and local law come first.</p>
      <Foot back={back}>
        <button
          type="button"
          className={styles.main}
          onClick={() => touch({ type: 'take cautions' })}
        >
          All done
        </button>
      </Foot>
    </>
  );
}

const lineChoices: readonly (readonly [LineState, string, string])[] = [
  ['dry', 'Dry', 'Rag clean'],
  ['film', 'Oil film', 'Rag stained, nothing runs'],
  ['wet', 'Wet with oil', 'Oil runs or drips'],
];

export function LineStep({ draft, touch, back }: StepProps) {
  return (
    <>
      <AskedFor title="Look inside the vacuum line at the booster">
        Engine off. Pull the line, wipe the inside with a clean rag.
      </AskedFor>
      <div className={styles.choices}>
        <PhotoChoice draftId={draft.id} />
        {lineChoices.map(([line, title, note]) => (
          <Choice
            key={line}
            title={title}
            note={note}
            onClick={() => touch({ type: 'see line', line })}
          />
        ))}
        <Choice
          title="Could not look"
          onClick={() => touch({ type: 'could not', field: 'line' })}
        />
      </div>
      <Foot back={back} />
    </>
  );
}

const pedalChoices: readonly (readonly [PedalState, string, string])[] = [
  ['normal', 'Normal', 'Soft on every press'],
  ['went hard', 'Went hard', 'By the fourth press'],
  ['hard', 'Hard from the start', 'No assist at all'],
];

export function PedalStep({ touch, back }: StepProps) {
  return (
    <>
      <AskedFor title="How was the pedal?">Over the four presses, engine at idle.</AskedFor>
      <div className={styles.choices}>
        {pedalChoices.map(([pedal, title, note]) => (
          <Choice
            key={pedal}
            title={title}
            note={note}
            onClick={() => touch({ type: 'feel pedal', pedal })}
          />
        ))}
        <Choice title="Could not" onClick={() => touch({ type: 'could not', field: 'pedal' })} />
      </div>
      <Foot back={back} />
    </>
  );
}

const beltChoices = ['sound', 'cracked', 'oily', 'shredded', 'off', 'not seen'] as const;

export function BeltStep({ touch, back }: StepProps) {
  return (
    <>
      <AskedFor title="The pump belt">Engine off. Look; do not reach in.</AskedFor>
      <div className={`${styles.choices} ${styles.twos}`}>
        {beltChoices.map((belt) => (
          <Choice
            key={belt}
            title={belt.replace(/^./, (first) => first.toUpperCase())}
            onClick={() => touch({ type: 'see belt', belt })}
          />
        ))}
      </div>
      <Foot back={back} />
    </>
  );
}

export function RefitStep({ touch, back }: StepProps) {
  return (
    <>
      <AskedFor title="Put it back">Engine on again for the pedal.</AskedFor>
      <div className={styles.steps}>
        <ul>
          <li>Gauge off, line back on</li>
          <li>
            <b>Clip tugged: it holds</b>
          </li>
          <li>Engine on, pedal normal</li>
        </ul>
      </div>
      <div className={styles.choices}>
        <Choice
          title="Pedal not normal"
          note="Goes on the reading: do not drive"
          onClick={() => touch({ type: 'refit', isPedalNormal: false })}
        />
      </div>
      <Foot back={back}>
        <button
          type="button"
          className={styles.main}
          onClick={() => touch({ type: 'refit', isPedalNormal: true })}
        >
          All done
        </button>
      </Foot>
    </>
  );
}
