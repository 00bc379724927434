import type { TraceOptions, TraceReading } from '@/lib/analysis/trace';
import type { Seconds } from '@/lib/measure';

/** What the technician marked on a trace, seconds of its own clock; null leaves it to be found. */
export interface TraceMarks {
  readonly idleUntil: Seconds | null;
  readonly presses: readonly Seconds[] | null;
  readonly keyOff: Seconds | null;
}

export const noMarks: TraceMarks = { idleUntil: null, presses: null, keyOff: null };

export type MarkId = 'idle' | 'engine off' | `press ${number}`;

/** A mark on the curve, found or set by hand. */
export interface TraceMark {
  readonly id: MarkId;
  readonly label: string;
  readonly at: Seconds;
}

/** Presses are never nearer than this: a foot takes longer. */
const apart: Seconds = 0.4;
const leastIdle: Seconds = 2;

const pressOf = (id: MarkId): number => Number(id.replace('press ', '')) - 1;

/** Marks as they stand, in order of time: what was set by hand before what was found. */
export function standingMarks(marks: TraceMarks, found: TraceReading | null): readonly TraceMark[] {
  const presses = marks.presses ?? found?.presses ?? [];
  const idleUntil = marks.idleUntil ?? presses[0] ?? null;
  const keyOff = marks.keyOff ?? found?.keyOff ?? null;
  return [
    ...(idleUntil === null
      ? []
      : [
          {
            id: 'idle',
            label: 'Idle until',
            at: Math.min(idleUntil, presses[0] ?? idleUntil),
          } as const,
        ]),
    ...presses.map((at, index) => ({
      id: `press ${index + 1}` as const,
      label: `Press ${index + 1} of ${presses.length}`,
      at,
    })),
    ...(keyOff === null ? [] : [{ id: 'engine off', label: 'Engine off', at: keyOff } as const]),
  ];
}

/** How far a mark may go: marks never pass each other, nor leave the trace. */
export function roomOf(
  id: MarkId,
  standing: readonly TraceMark[],
  trace: readonly [Seconds, Seconds],
): readonly [Seconds, Seconds] {
  const [first, last] = trace;
  const presses = standing.filter(({ id: other }) => other.startsWith('press'));
  if (id === 'idle') return [first + leastIdle, presses[0]?.at ?? last];
  if (id === 'engine off') return [(presses.at(-1)?.at ?? first) + apart, last];
  const press = pressOf(id);
  const engineOff = standing.find(({ id: other }) => other === 'engine off');
  return [
    (presses[press - 1]?.at ?? first + leastIdle) + (press === 0 ? 0 : apart),
    (presses[press + 1]?.at ?? engineOff?.at ?? last) - apart,
  ];
}

/**
 * The marks with one of them moved, no further than its room.
 *
 * @example moveMark(noMarks, standing, 'engine off', 70, [0, 130]).keyOff is 70
 */
export function moveMark(
  marks: TraceMarks,
  standing: readonly TraceMark[],
  id: MarkId,
  to: Seconds,
  trace: readonly [Seconds, Seconds],
): TraceMarks {
  const [least, most] = roomOf(id, standing, trace);
  const at = Math.round(Math.min(Math.max(to, least), most) * 100) / 100;
  if (id === 'idle') return { ...marks, idleUntil: at };
  if (id === 'engine off') return { ...marks, keyOff: at };
  return { ...marks, presses: pressesIn(standing).with(pressOf(id), at) };
}

const pressesIn = (standing: readonly TraceMark[]): Seconds[] =>
  standing.filter(({ id }) => id.startsWith('press')).map(({ at }) => at);

/** One more press, a second after the last; or in the middle of a trace in which none was found. */
export function addPress(
  marks: TraceMarks,
  standing: readonly TraceMark[],
  [first, last]: readonly [Seconds, Seconds],
): TraceMarks {
  const presses = pressesIn(standing);
  const newest = presses.at(-1);
  const at = newest === undefined ? (first + last) / 2 : Math.min(newest + 1, last - apart);
  return { ...marks, presses: [...presses, at] };
}

export const removePress = (
  marks: TraceMarks,
  standing: readonly TraceMark[],
  id: MarkId,
): TraceMarks => ({ ...marks, presses: pressesIn(standing).toSpliced(pressOf(id), 1) });

/** Where nobody could find the key-off: 20 s after the last press, to be moved from there. */
export function markEngineOff(
  marks: TraceMarks,
  standing: readonly TraceMark[],
  [first, last]: readonly [Seconds, Seconds],
): TraceMarks {
  const from = pressesIn(standing).at(-1) ?? first;
  return { ...marks, keyOff: Math.min(from + 20, last) };
}

export const optionsOf = ({ idleUntil, presses, keyOff }: TraceMarks): TraceOptions => ({
  keyOff,
  ...(presses && { presses }),
  ...(idleUntil !== null && { idleUntil }),
});

export const isMarked = ({ idleUntil, presses, keyOff }: TraceMarks): boolean =>
  idleUntil !== null || presses !== null || keyOff !== null;
