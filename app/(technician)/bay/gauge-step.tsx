'use client';

import { useState } from 'react';
import type { BayGauge } from '@/lib/bay-card/snapshot';
import { type PressureUnit, pressureUnits } from '@/lib/measure';
import styles from './bay.module.css';
import type { StepProps } from './reading-steps';
import { AskedFor, Choice, Foot } from './screen';

interface GaugeStepProps extends StepProps {
  readonly gauges: readonly BayGauge[];
  readonly shedId: string | undefined;
}

const perScreen = 4;

export function GaugeStep({ draft, touch, back, gauges, shedId }: GaugeStepProps) {
  const [isChoosing, setIsChoosing] = useState(false);
  const [from, setFrom] = useState(0);
  const near = [...gauges].sort(
    (a, b) => Number(b.shedId === shedId) - Number(a.shedId === shedId),
  );
  const choose = (gaugeId: string | null, unit: PressureUnit) => {
    touch({ type: 'choose gauge', gaugeId, unit });
    setIsChoosing(false);
  };
  if (isChoosing) {
    return (
      <>
        <AskedFor title="Which gauge?" />
        <div className={styles.choices}>
          {near.slice(from, from + perScreen).map(({ id, label, pressureUnit }) => (
            <Choice
              key={id}
              title={label}
              note={pressureUnit}
              onClick={() => choose(id, pressureUnit)}
            />
          ))}
        </div>
        <fieldset className={styles.units}>
          <legend>Or read this gauge in</legend>
          {pressureUnits.map((unit) => (
            <button
              key={unit}
              type="button"
              aria-pressed={unit === draft.pressureUnit}
              onClick={() => choose(draft.gaugeId, unit)}
            >
              {unit}
            </button>
          ))}
        </fieldset>
        <Foot back={() => setIsChoosing(false)}>
          {near.length > perScreen && (
            <button
              type="button"
              onClick={() => setFrom(from + perScreen < near.length ? from + perScreen : 0)}
            >
              More
            </button>
          )}
        </Foot>
      </>
    );
  }
  const gauge = gauges.find(({ id }) => id === draft.gaugeId);
  return (
    <>
      <AskedFor title="Fit the gauge" />
      <div className={styles.steps}>
        <ul>
          <li>
            Teed in on the <b>booster side</b> of the check valve
          </li>
          <li>Engine started: the pedal sinks a little</li>
          <li>Engine warm, at idle</li>
        </ul>
      </div>
      <div className={styles.choices}>
        <Choice
          title={gauge?.label ?? 'No gauge on record'}
          note={`Reads ${draft.pressureUnit}. Touch to change.`}
          onClick={() => setIsChoosing(true)}
        />
        <Choice title="Could not" onClick={() => touch({ type: 'could not', field: 'idle' })} />
      </div>
      <Foot back={back}>
        <button
          type="button"
          className={styles.main}
          onClick={() => touch({ type: 'fit gauge', gaugeId: draft.gaugeId })}
        >
          All done
        </button>
      </Foot>
    </>
  );
}
