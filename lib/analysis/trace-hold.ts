import { type Recovery, recoveredAt } from '@/lib/analysis/trace-recovery';
import type { ScreenedTrace } from '@/lib/analysis/trace-screen';
import { type Kilopascals, type Seconds, toKilopascals } from '@/lib/measure';

export interface Hold {
  readonly keyOff: Seconds | null;
  readonly keyOffFound: 'marked' | 'found' | 'not found';
  readonly loss: Kilopascals | null;
  readonly duration: Seconds | null;
}

const asked: Seconds = 60;
const leastHold: Seconds = 15;
const before: Seconds = 6;
const around: Seconds = 4;
/** A fall smaller than this over the rest of the trace cannot be told from the drift of a tight booster. */
const leastFoundFall = toKilopascals(0.3, 'psi');

/**
 * Fall of vacuum with the engine off: mean of the 6 s before the key is turned off, less the mean about
 * 60 s after it (or about the end of a shorter hold), kPa, positive when vacuum is lost.
 * Where nobody marked the key-off it is looked for as the bend from a level line to a falling one.
 * Thin data: no loss under 15 s of hold, and `not found` on a booster too tight to show the bend.
 */
export function measureHold(
  trace: ScreenedTrace,
  recovery: Recovery,
  marked: Seconds | null,
): Hold {
  const last = trace.times.at(-1)!;
  const keyOff = marked ?? bend(trace, recovery);
  const keyOffFound = marked !== null ? 'marked' : keyOff !== null ? 'found' : 'not found';
  if (keyOff === null || last - keyOff < leastHold)
    return { keyOff, keyOffFound, loss: null, duration: null };
  const duration = Math.min(asked, last - keyOff - around / 2);
  const start = meanBetween(trace, Math.max(recovery.release, keyOff - before), keyOff);
  const left = meanBetween(trace, keyOff + duration - around, keyOff + duration + around);
  if (start === null || left === null) return { keyOff, keyOffFound, loss: null, duration: null };
  return { keyOff, keyOffFound, loss: start - left, duration };
}

/** A bend must explain this many variances of the noise: a chance of about one in a million. */
const leastGain = 25;
const bendStep: Seconds = 1;
/** Time constants that a leak-down may have, from an open booster to one that takes an hour. */
const leakDowns: readonly Seconds[] = [5, 20, 60, 200, 3000];

/**
 * Time at which the recovered level turns into a steady fall: of all bends on a grid, each with a
 * leak-down 1 - e^(-t / timeConstant) scaled by least squares, the one that leaves the least error.
 */
function bend(trace: ScreenedTrace, recovery: Recovery): Seconds | null {
  const { times, vacuum, noise } = trace;
  const residuals = times.map((t, index) => vacuum[index]! - recoveredAt(recovery, t));
  const earliest = recovery.release + 3 * recovery.timeConstant;
  const last = times.at(-1)!;
  let most = leastGain * Math.max(noise, 0.05) ** 2;
  let found: Seconds | null = null;
  for (let keyOff = earliest; keyOff <= last - leastHold; keyOff += bendStep) {
    const from = times.findIndex((t) => t > keyOff);
    for (const timeConstant of leakDowns) {
      let products = 0;
      let squares = 0;
      for (let index = from; index < times.length; index++) {
        const fallen = 1 - Math.exp((keyOff - times[index]!) / timeConstant);
        products += fallen * residuals[index]!;
        squares += fallen * fallen;
      }
      const scale = products / squares;
      const fall = -scale * (1 - Math.exp((keyOff - last) / timeConstant));
      if (fall > leastFoundFall && scale * products > most) {
        most = scale * products;
        found = keyOff;
      }
    }
  }
  return found;
}

function meanBetween(trace: ScreenedTrace, from: Seconds, to: Seconds): Kilopascals | null {
  const inside = trace.vacuum.filter((_, index) => {
    const t = trace.times[index]!;
    return t >= from && t <= to;
  });
  return inside.length === 0 ? null : inside.reduce((sum, value) => sum + value, 0) / inside.length;
}
