import type { ScreenedTrace } from '@/lib/analysis/trace-screen';
import type { Kilopascals, Seconds } from '@/lib/measure';
import { exponentialApproach } from '@/lib/statistics/exponential-approach';

/** p = end - drop e^(-(t - release) / timeConstant), t on the trace's clock. */
export interface Recovery {
  readonly release: Seconds;
  readonly end: Kilopascals;
  readonly drop: Kilopascals;
  readonly timeConstant: Seconds;
}

const shortest: Seconds = 3;
/** The first samples after a release still hold the pedal's own movement. */
const localWindow: Seconds = 2;

/**
 * Least squares fit of an exponential approach from the last release until `until`, in kPa.
 * Thin data: null under 3 s of recovery, or where the vacuum does not rise.
 */
export function fitRecovery(
  trace: ScreenedTrace,
  firstAfter: number,
  until: Seconds,
): Recovery | null {
  const release = trace.times[firstAfter]! - trace.interval / 2;
  const last = trace.times.findLastIndex((t) => t < until);
  if (trace.times[last]! - release < shortest) return null;
  const fit = exponentialApproach(
    trace.times.slice(firstAfter, last + 1).map((t) => t - release),
    trace.vacuum.slice(firstAfter, last + 1),
  );
  if (fit.whyNone !== null || fit.drop <= 0) return null;
  const { end, drop, timeConstant } = fit;
  return { release, end, drop, timeConstant };
}

export const recoveredAt = (recovery: Recovery, t: Seconds): Kilopascals =>
  recovery.end - recovery.drop * Math.exp(-(t - recovery.release) / recovery.timeConstant);

/**
 * Seconds from the release until the vacuum is back at `level`: where the fit meets it, moved by the
 * mean of the samples about the fit around that time. Null when it is not met within the trace.
 */
export function secondsToLevel(
  trace: ScreenedTrace,
  recovery: Recovery,
  level: Kilopascals,
  until: Seconds,
): Seconds | null {
  const crossing = (raised: Kilopascals): Seconds | null => {
    const left = recovery.end + raised - level;
    if (left <= 0) return null;
    const seconds = recovery.timeConstant * Math.log(recovery.drop / left);
    return recovery.release + seconds < until ? Math.max(0, seconds) : null;
  };
  const first = crossing(0);
  if (first === null) return null;
  return crossing(meanResidual(trace, recovery, recovery.release + first, until)) ?? first;
}

function meanResidual(
  trace: ScreenedTrace,
  recovery: Recovery,
  around: Seconds,
  until: Seconds,
): Kilopascals {
  let sum = 0;
  let count = 0;
  trace.times.forEach((t, index) => {
    if (t < recovery.release || t >= until || Math.abs(t - around) > localWindow) return;
    sum += trace.vacuum[index]! - recoveredAt(recovery, t);
    count++;
  });
  return count === 0 ? 0 : sum / count;
}
