import type { Press } from '@/lib/analysis/trace-presses';
import { fitRecovery, type Recovery, recoveredAt } from '@/lib/analysis/trace-recovery';
import type { ScreenedTrace } from '@/lib/analysis/trace-screen';
import type { Kilopascals, Seconds } from '@/lib/measure';

const lowestWindow: Seconds = 10;

/** A press falls between two samples: midway, as far as anyone knows. */
export const releaseOf = (trace: ScreenedTrace, at: number): Seconds =>
  trace.times[at]! - trace.interval / 2;

/** Least of the levels just after each press: the samples until the next, taken back along the recovery. */
export function lowestOf(
  trace: ScreenedTrace,
  presses: readonly Press[],
  recovery: Recovery | null,
): Kilopascals {
  const levels = presses.map(({ at }, press) => {
    const release = releaseOf(trace, at);
    const next = presses[press + 1];
    const local = next ? null : fitRecovery(trace, at, release + lowestWindow);
    if (local) return recoveredAt(local, release);
    const until = next ? releaseOf(trace, next.at) : release + 1;
    const samples = trace.vacuum.slice(at, trace.times.findLastIndex((t) => t < until) + 1);
    const taken = samples.map((value, offset) => {
      if (!recovery) return value;
      const back = Math.exp((trace.times[at + offset]! - release) / recovery.timeConstant);
      return Math.min(value, recovery.end - (recovery.end - value) * back);
    });
    return taken.reduce((sum, value) => sum + value, 0) / taken.length;
  });
  return levels.reduce((a, b) => Math.min(a, b));
}
