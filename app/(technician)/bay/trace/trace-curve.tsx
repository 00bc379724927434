'use client';

import { type KeyboardEvent, type PointerEvent, useRef } from 'react';
import { linearScale } from '@/app/_ui/charts/scale';
import type { TraceReading, TraceSample } from '@/lib/analysis/trace';
import type { MarkId, TraceMark } from '@/lib/bay-card/trace-marks';
import { fromKilopascals, type PressureUnit, type Seconds } from '@/lib/measure';
import trace from './trace.module.css';
import { curvePath, foundPaths } from './trace-paths';

interface TraceCurveProps {
  readonly samples: readonly TraceSample[];
  readonly reading: TraceReading | null;
  readonly standing: readonly TraceMark[];
  readonly chosen: MarkId | null;
  /** Shows the stretch of the presses rather than the whole trace. */
  readonly isNear: boolean;
  readonly pressureUnit: PressureUnit;
  readonly choose: (id: MarkId) => void;
  readonly move: (id: MarkId, to: Seconds) => void;
  readonly remove: (id: MarkId) => void;
}

const width = 328;
const height = 200;
const foot = 24;
const step: Seconds = 0.1;
const stepFar: Seconds = 1;

const stepsByKey: Readonly<Record<string, Seconds>> = {
  ArrowLeft: -step,
  ArrowDown: -step,
  ArrowRight: step,
  ArrowUp: step,
  PageDown: -stepFar,
  PageUp: stepFar,
};

/** The samples, what was read off them, and a mark to move for each thing found. */
export function TraceCurve(props: TraceCurveProps) {
  const { samples, reading, standing, chosen, isNear, pressureUnit } = props;
  const dragged = useRef<MarkId | null>(null);
  const last = samples.at(-1)?.t ?? 1;
  const [from, to] = isNear ? stretchOfPresses(standing, last) : [0, last];
  const most = samples.reduce((high, { vacuum }) => Math.max(high, vacuum), 1);
  const x = linearScale([from, to], [0, width]);
  const y = linearScale([0, most * 1.05], [height - foot, 26]);
  const timeAt = ({ currentTarget, clientX }: PointerEvent<SVGSVGElement>): Seconds => {
    const onScreen = currentTarget.getScreenCTM();
    if (!onScreen) return from;
    return from + ((clientX - onScreen.e) / (onScreen.a * width)) * (to - from);
  };
  const take = (event: PointerEvent<SVGSVGElement>) => {
    const at = timeAt(event);
    const nearest = standing.reduce<TraceMark | null>(
      (best, mark) => (best && Math.abs(best.at - at) <= Math.abs(mark.at - at) ? best : mark),
      null,
    );
    if (!nearest) return;
    event.currentTarget.setPointerCapture(event.pointerId);
    dragged.current = nearest.id;
    props.choose(nearest.id);
  };
  const drag = (event: PointerEvent<SVGSVGElement>) => {
    if (dragged.current) props.move(dragged.current, timeAt(event));
  };
  const key = (event: KeyboardEvent, { id, at }: TraceMark) => {
    const by = stepsByKey[event.key];
    if (by !== undefined) props.move(id, at + by);
    else if (event.key === 'Delete' && id.startsWith('press')) props.remove(id);
    else return;
    event.preventDefault();
  };
  return (
    <svg
      className={trace.curve}
      viewBox={`0 0 ${width} ${height}`}
      onPointerDown={take}
      onPointerMove={drag}
      onPointerUp={() => {
        dragged.current = null;
      }}
      onPointerCancel={() => {
        dragged.current = null;
      }}
    >
      <title>Vacuum over time, with what was found marked</title>
      <path className={trace.samples} d={curvePath(samples, [from, to], x.at, y.at, width)} />
      {reading && (
        <path className={trace.foundLine} d={foundPaths(reading, [from, to], x.at, y.at)} />
      )}
      {standing
        .filter(({ at }) => at >= from && at <= to)
        .map((mark) => (
          <g
            key={mark.id}
            role="slider"
            tabIndex={0}
            aria-label={mark.label}
            aria-valuemin={0}
            aria-valuemax={Math.round(last)}
            aria-valuenow={Number(mark.at.toFixed(1))}
            aria-valuetext={`${mark.at.toFixed(1)} s`}
            className={mark.id === chosen ? trace.chosen : trace.mark}
            onFocus={() => props.choose(mark.id)}
            onKeyDown={(event) => key(event, mark)}
          >
            <path d={`M${x.at(mark.at).toFixed(1)} 0V${height - foot}`} />
            <circle
              cx={x.at(mark.at).toFixed(1)}
              cy={mark.id === 'idle' ? 10 : height - foot - 10}
              r={6}
            />
          </g>
        ))}
      <text x={width - 2} y={18} textAnchor="end">
        {fromKilopascals(most, pressureUnit).toFixed(1)} {pressureUnit}
      </text>
      <text x={2} y={height - 5}>
        {from.toFixed(0)} s
      </text>
      <text x={width - 2} y={height - 5} textAnchor="end">
        {to.toFixed(0)} s
      </text>
    </svg>
  );
}

function stretchOfPresses(standing: readonly TraceMark[], last: Seconds): [Seconds, Seconds] {
  const presses = standing.filter(({ id }) => id.startsWith('press'));
  const first = presses[0]?.at ?? 0;
  const end = presses.at(-1)?.at ?? last;
  return [Math.max(0, first - 8), Math.min(last, end + 10)];
}
