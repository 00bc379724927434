import type { Kilopascals, Seconds } from '@/lib/measure';
import type { Result } from '@/lib/result';

export interface TraceSample {
  readonly t: Seconds;
  readonly vacuum: Kilopascals;
}

export interface TraceReading {
  readonly idle: Kilopascals;
  /** Start of each full press, seconds on the trace's own clock. */
  readonly presses: readonly Seconds[];
  readonly lowest: Kilopascals;
  /** Last release until within 0.5 psi of idle; null when the trace ends before. */
  readonly recovery: Seconds | null;
  /** Last release until the fixed level; null when the fit never meets it. */
  readonly recoveryToLevel: Seconds | null;
  readonly timeConstant: Seconds | null;
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
  | 'no idle before the presses';

export interface TraceRefusal {
  readonly rule: TraceRefusalRule;
  readonly message: string;
  readonly mend: string;
}

export interface TraceOptions {
  /** Engine switched off, on the trace's own clock, as the technician marked it. */
  readonly keyOff?: Seconds | null;
  /** Ambient pressure at the shed; more vacuum than this is a wrong unit. */
  readonly ambient?: Kilopascals;
}

export declare function analyseTrace(
  samples: readonly TraceSample[],
  options?: TraceOptions,
): Result<TraceReading, TraceRefusal>;
