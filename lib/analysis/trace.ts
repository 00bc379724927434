import { measureHold } from '@/lib/analysis/trace-hold';
import { lowestOf, releaseOf } from '@/lib/analysis/trace-lowest';
import { findPresses, type Press, typicalFall } from '@/lib/analysis/trace-presses';
import { fitRecovery, type Recovery, secondsToLevel } from '@/lib/analysis/trace-recovery';
import { type ScreenedTrace, screenTrace } from '@/lib/analysis/trace-screen';
import { type Kilopascals, type Seconds, toKilopascals } from '@/lib/measure';
import { failure, type Result, success } from '@/lib/result';
import { median } from '@/lib/statistics/median';

export interface TraceSample {
  readonly t: Seconds;
  readonly vacuum: Kilopascals;
}

export interface TraceReading {
  readonly idle: Kilopascals;
  /** End of the stretch that idle is the median of. */
  readonly idleUntil: Seconds;
  /** When each press takes its vacuum, seconds on the trace's own clock. */
  readonly presses: readonly Seconds[];
  readonly lowest: Kilopascals;
  /** Last release until within 0.5 psi of idle; null when the trace ends before. */
  readonly recovery: Seconds | null;
  /** Last release until the fixed level: wear lowers idle, which by itself shortens `recovery`. */
  readonly recoveryToLevel: Seconds | null;
  readonly level: Kilopascals;
  readonly timeConstant: Seconds | null;
  /** The curve fitted after the last release, on the trace's own clock. */
  readonly fit: Recovery | null;
  readonly lastRelease: Seconds;
  readonly keyOff: Seconds | null;
  readonly keyOffFound: 'marked' | 'found' | 'not found';
  readonly holdLoss: Kilopascals | null;
  readonly holdTime: Seconds | null;
  /** Standard deviation of one sample about the true vacuum. */
  readonly noise: Kilopascals;
  readonly sampleRate: number;
}

export type TraceRefusalRule =
  | 'too short'
  | 'not a number'
  | 'time not rising'
  | 'irregular'
  | 'too slow'
  | 'too noisy'
  | 'wrong unit'
  | 'no presses'
  | 'no fall'
  | 'no idle before the presses';

export interface TraceRefusal {
  readonly rule: TraceRefusalRule;
  readonly message: string;
  readonly mend: string;
}

export interface TraceOptions {
  /** Engine switched off, on the trace's own clock, as the technician marked it. */
  readonly keyOff?: Seconds | null;
  /** Presses as the technician marked them, on the trace's own clock; found where left out. */
  readonly presses?: readonly Seconds[];
  /** End of the idle plateau as marked; the first press where left out. */
  readonly idleUntil?: Seconds;
  /** Ambient pressure at the shed; more vacuum than this is a wrong unit. */
  readonly ambient?: Kilopascals;
  /** Level, as read, that `recoveryToLevel` runs to. */
  readonly level?: Kilopascals;
}

const idleWindow: Seconds = 6;
const leastIdleWindow: Seconds = 2;
const withinIdle = toKilopascals(0.5, 'psi');
const defaultLevel = toKilopascals(11, 'psi');
/** Recovery is not quite exponential, so its time constant is defined on a fixed stretch. */
const fitWindow: Seconds = 40;

/**
 * Reads idle, presses, lowest, recovery and hold from a logging gauge's samples, kPa below ambient and
 * seconds. Presses are found twice: first as sudden falls, then again with the recovery known.
 * What the technician marked stands in place of what was found. Idle is the median of the 6 s before
 * the first press, or before the marked end of its plateau; lowest the least of the levels just after a
 * press, the last one extrapolated to its release; the time constant comes from least squares on the
 * 40 s after the last release.
 * Source: own method, judged on simulated traces (docs/method.md, Trace).
 * Thin or bad data: a refusal with its rule, what is wrong and how to put it right.
 *
 * @example analyseTrace([{ t: 0, vacuum: 90 }]) is refused as `too short`
 */
export function analyseTrace(
  samples: readonly TraceSample[],
  options: TraceOptions = {},
): Result<TraceReading, TraceRefusal> {
  const start = samples[0]?.t ?? 0;
  const read = readFromStart(
    samples.map(({ t, vacuum }) => ({ t: sinceStart(t, start), vacuum })),
    {
      ...options,
      keyOff: options.keyOff == null ? null : sinceStart(options.keyOff, start),
      ...(options.presses && { presses: options.presses.map((at) => sinceStart(at, start)) }),
      ...(options.idleUntil !== undefined && { idleUntil: sinceStart(options.idleUntil, start) }),
    },
  );
  if (!read.ok) return read;
  const { presses, lastRelease, keyOff, idleUntil, fit } = read.value;
  return success({
    ...read.value,
    presses: presses.map((at) => start + at),
    idleUntil: start + idleUntil,
    fit: fit && { ...fit, release: start + fit.release },
    lastRelease: start + lastRelease,
    keyOff: keyOff === null ? null : start + keyOff,
  });
}

/** To the microsecond, so that no window gains or loses a sample by when the log started. */
const sinceStart = (t: Seconds, start: Seconds): Seconds => Math.round((t - start) * 1e6) / 1e6;

function readFromStart(
  samples: readonly TraceSample[],
  options: TraceOptions,
): Result<TraceReading, TraceRefusal> {
  const screened = screenTrace(samples, options.ambient);
  if (!screened.ok) return screened;
  const trace = screened.value;
  const marked = options.keyOff ?? null;
  const engineOn = marked === null ? trace : before(trace, marked);

  const { presses, recovery } = options.presses
    ? asMarked(engineOn, options.presses)
    : refine(engineOn, findPresses(engineOn));
  if (presses.length === 0)
    return failure({
      rule: 'no presses',
      message: 'No press of the pedal shows in the trace.',
      mend: 'Log four full presses, one a second, with the foot right off between.',
    });
  const idleUntil = Math.min(
    options.idleUntil ?? Number.POSITIVE_INFINITY,
    releaseOf(trace, presses[0]!.at),
  );
  if (idleUntil - trace.times[0]! < leastIdleWindow)
    return failure({
      rule: 'no idle before the presses',
      message: `The first press comes less than ${leastIdleWindow} s after the log starts.`,
      mend: 'Let the engine idle for 6 s with the gauge logging before the first press.',
    });
  const idle = median(between(trace, idleUntil - idleWindow, idleUntil))!;
  const lowest = lowestOf(engineOn, presses, recovery);
  if (lowest >= idle)
    return failure({
      rule: 'no fall',
      message: 'At the presses the vacuum does not fall below idle.',
      mend: 'Move the marks onto the presses. Where the curve rises there, the gauge logged absolute pressure: set it to vacuum and log again.',
    });
  const hold = recovery
    ? measureHold(trace, recovery, marked)
    : ({ keyOff: marked, keyOffFound: marked === null ? 'not found' : 'marked' } as const);
  const until = hold.keyOff ?? Number.POSITIVE_INFINITY;
  const level = options.level ?? defaultLevel;
  const toLevel = (height: Kilopascals) =>
    recovery && secondsToLevel(trace, recovery, height, until);

  return success({
    idle,
    idleUntil,
    presses: presses.map(({ at }) => releaseOf(trace, at)),
    lowest,
    recovery: toLevel(idle - withinIdle),
    recoveryToLevel: toLevel(level),
    level,
    timeConstant: recovery?.timeConstant ?? null,
    fit: recovery,
    lastRelease: releaseOf(trace, presses.at(-1)!.at),
    keyOff: hold.keyOff,
    keyOffFound: hold.keyOffFound,
    holdLoss: 'loss' in hold ? hold.loss : null,
    holdTime: 'duration' in hold ? hold.duration : null,
    noise: trace.noise,
    sampleRate: trace.sampleRate,
  });
}

const before = (trace: ScreenedTrace, keyOff: Seconds): ScreenedTrace => {
  const length = trace.times.findLastIndex((t) => t < keyOff) + 1;
  return { ...trace, times: trace.times.slice(0, length), vacuum: trace.vacuum.slice(0, length) };
};

const between = (trace: ScreenedTrace, from: Seconds, to: Seconds): Kilopascals[] =>
  trace.vacuum.filter((_, index) => trace.times[index]! >= from && trace.times[index]! <= to);

interface Pressed {
  readonly presses: readonly Press[];
  readonly recovery: Recovery | null;
}

const fitAfter = (trace: ScreenedTrace, presses: readonly Press[]): Recovery | null => {
  const last = presses.at(-1);
  return last ? fitRecovery(trace, last.at, trace.times[last.at]! + fitWindow) : null;
};

function asMarked(trace: ScreenedTrace, marked: readonly Seconds[]): Pressed {
  const presses = marked
    .toSorted((a, b) => a - b)
    .map((release) => ({ at: trace.times.findIndex((t) => t >= release), fall: 0 }))
    .filter(({ at }) => at > 0);
  return { presses, recovery: fitAfter(trace, presses) };
}

function refine(trace: ScreenedTrace, rough: readonly Press[]): Pressed {
  const recovery = fitAfter(trace, rough);
  if (!recovery) return { presses: rough, recovery };
  const presses = findPresses(
    trace,
    (level, window) =>
      Math.max(0, recovery.end - level) * (1 - Math.exp(-window / recovery.timeConstant)),
    typicalFall(rough),
  );
  if (presses.length === 0) return { presses: rough, recovery };
  return { presses, recovery: fitAfter(trace, presses) };
}
