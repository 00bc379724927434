'use client';

import { useDeferredValue, useMemo, useRef, useState } from 'react';
import { analyseTrace, type TraceReading } from '@/lib/analysis/trace';
import { type FilledByTrace, filledByTrace } from '@/lib/bay-card/filled-by-trace';
import {
  addPress,
  isMarked,
  type MarkId,
  markEngineOff,
  moveMark,
  optionsOf,
  removePress,
  standingMarks,
  type TraceMarks,
} from '@/lib/bay-card/trace-marks';
import { parseTraceCsv, type TraceColumns } from '@/lib/intake/trace-csv';
import { formatPressure, type Kilopascals, type PressureUnit, type Seconds } from '@/lib/measure';
import styles from '../bay.module.css';
import { AskedFor, Foot } from '../screen';
import trace from './trace.module.css';
import { TraceCurve } from './trace-curve';

interface CheckTraceProps {
  readonly text: string;
  readonly columns: TraceColumns;
  readonly marks: TraceMarks;
  readonly setMarks: (marks: TraceMarks) => void;
  readonly pressureUnit: PressureUnit;
  readonly ambient: Kilopascals;
  readonly trouble: string | null;
  readonly mapAgain: () => void;
  readonly back: () => void;
  readonly use: (filled: FilledByTrace) => void;
}

const step: Seconds = 0.1;

/** What was found, drawn over the curve; each mark is moved by dragging, by buttons or by keys. */
export function CheckTrace(props: CheckTraceProps) {
  const { text, columns, marks, setMarks, pressureUnit, ambient } = props;
  const parsed = useMemo(() => parseTraceCsv(text, columns), [text, columns]);
  const { samples, missed } = parsed.ok ? parsed.value : { samples: [], missed: 0 };
  const span = [0, samples.at(-1)?.t ?? 0] as const;
  const analysed = useDeferredValue(marks);
  const result = useMemo(
    () => analyseTrace(samples, { ...optionsOf(analysed), ambient }),
    [samples, analysed, ambient],
  );
  const newest = useRef<TraceReading | null>(null);
  if (result.ok) newest.current = result.value;
  const reading = result.ok ? result.value : null;
  const standing = standingMarks(marks, reading ?? newest.current);
  const [chosenId, setChosenId] = useState<MarkId | null>(null);
  const [isNear, setIsNear] = useState(false);
  const chosen = standing.find(({ id }) => id === chosenId) ?? standing[0];
  const move = (id: MarkId, to: Seconds) => setMarks(moveMark(marks, standing, id, to, span));
  const nudge = (by: Seconds) => chosen && move(chosen.id, chosen.at + by);
  const isPress = chosen?.id.startsWith('press') ?? false;
  const hasEngineOff = standing.some(({ id }) => id === 'engine off');

  return (
    <>
      <AskedFor title="Is the trace read right?">
        {missed > 0 &&
          `${missed} ${missed === 1 ? 'line holds' : 'lines hold'} no pressure: left out.`}
      </AskedFor>
      <TraceCurve
        samples={samples}
        reading={reading}
        standing={standing}
        chosen={chosen?.id ?? null}
        isNear={isNear}
        pressureUnit={pressureUnit}
        choose={setChosenId}
        move={move}
        remove={(id) => setMarks(removePress(marks, standing, id))}
      />
      <div className={trace.row}>
        <button type="button" aria-label="Earlier" disabled={!chosen} onClick={() => nudge(-step)}>
          ◀
        </button>
        <button
          type="button"
          disabled={!chosen}
          onClick={() => {
            const at = standing.findIndex(({ id }) => id === chosen?.id);
            setChosenId(standing[(at + 1) % standing.length]?.id ?? null);
          }}
        >
          {chosen ? `${chosen.label}: ${chosen.at.toFixed(1)} s` : 'No mark'}
          <small>Next mark</small>
        </button>
        <button type="button" aria-label="Later" disabled={!chosen} onClick={() => nudge(step)}>
          ▶
        </button>
      </div>
      <div className={trace.row}>
        <button type="button" onClick={() => setIsNear(!isNear)}>
          {isNear ? 'Whole' : 'Closer'}
        </button>
        {isPress && chosen ? (
          <button type="button" onClick={() => setMarks(removePress(marks, standing, chosen.id))}>
            No press here
          </button>
        ) : hasEngineOff || !reading ? (
          <button type="button" onClick={() => setMarks(addPress(marks, standing, span))}>
            Add a press
          </button>
        ) : (
          <button type="button" onClick={() => setMarks(markEngineOff(marks, standing, span))}>
            Mark engine off
          </button>
        )}
        <button type="button" onClick={props.mapAgain}>
          Columns
        </button>
      </div>
      {reading ? (
        <Found reading={reading} pressureUnit={pressureUnit} />
      ) : (
        <p className={styles.note} role="alert">
          {result.ok ? '' : `${result.error.message} ${result.error.mend}`}
        </p>
      )}
      {props.trouble && (
        <p className={styles.note} role="alert">
          {props.trouble}
        </p>
      )}
      <div className={trace.fill} />
      <Foot back={props.back}>
        <button
          type="button"
          className={styles.main}
          disabled={!reading}
          onClick={() =>
            reading && props.use(filledByTrace(reading, pressureUnit, isMarked(marks)))
          }
        >
          Use these
        </button>
      </Foot>
    </>
  );
}

interface FoundProps {
  readonly reading: TraceReading;
  readonly pressureUnit: PressureUnit;
}

function Found({ reading, pressureUnit }: FoundProps) {
  const { idle, lowest, presses, recovery, timeConstant, holdLoss, holdTime } = reading;
  const none = 'by hand';
  const rows = [
    ['Idle', formatPressure(idle, pressureUnit)],
    [
      presses.length === 4 ? 'Lowest, 4 presses' : `Lowest, ${presses.length} of 4 presses`,
      formatPressure(lowest, pressureUnit),
    ],
    ['Recovery', recovery === null ? none : `${recovery.toFixed(1)} s`],
    ['Time constant', timeConstant === null ? '–' : `${timeConstant.toFixed(1)} s`],
    [
      holdTime === null ? 'Hold' : `Lost in ${Math.round(holdTime)} s`,
      holdLoss === null ? none : formatPressure(Math.max(0, holdLoss), pressureUnit),
    ],
  ];
  return (
    <dl className={trace.found}>
      {rows.map(([term, value]) => (
        <div key={term}>
          <dt>{term}</dt>
          <dd>{value}</dd>
        </div>
      ))}
    </dl>
  );
}
