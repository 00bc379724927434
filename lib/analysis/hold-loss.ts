import type { Limits } from '@/lib/analysis/limits';
import type { Kilopascals, Seconds } from '@/lib/measure';

/** A shorter hold sees no leak: 0.8 psi in 5 minutes is 0.04 psi in 15 s. */
export const shortestHold: Seconds = 45;
/** Between the two standard holds, on a logarithmic scale. */
const betweenHolds = Math.sqrt(60 * 300);

export interface HoldLoss {
  /** Loss over `standard` seconds. */
  readonly loss: Kilopascals;
  readonly standard: 60 | 300;
  readonly caution: Kilopascals;
  readonly stop: Kilopascals;
  /** Too short to show that the booster is tight; it may still show that it is not. */
  readonly isBlind: boolean;
}

/**
 * Loss over another time than was held, when vacuum decays as v0 e^(-t/τ): v0 (1 - (1 - loss/v0)^(to/held)).
 * kPa and seconds, `from` the vacuum at the start. Without `from`, in proportion to time.
 * Source: first-order leak-down, the rate rule of the method; a choked leak decays more slowly at first.
 *
 * @example lossOver(300, { loss: 5, held: 60, from: 85 }) is 22.2
 */
export function lossOver(
  to: Seconds,
  { loss, held, from }: { loss: Kilopascals; held: Seconds; from: Kilopascals | null },
): Kilopascals {
  if (to === held) return loss;
  if (from === null || from <= 0) return (loss * to) / held;
  return from * (1 - Math.max(0, 1 - loss / from) ** (to / held));
}

/**
 * A hold against the fleet's limits, which are for 60 s and for 300 s: other times convert to the
 * nearer of the two. A hold under 45 s is blind, and counts only where it lost more than the
 * 60-second limit in that shorter time.
 * Source: own choice. No loss, or no time held: null.
 *
 * @example holdLossOf({ loss: 5, held: 120, from: 85 }, defaultLimits).standard is 60
 */
export function holdLossOf(
  {
    loss,
    held,
    from,
  }: { loss: Kilopascals | null; held: Seconds | null; from: Kilopascals | null },
  limits: Pick<Limits, 'hold60Caution' | 'hold60Stop' | 'hold300Caution' | 'hold300Stop'>,
): HoldLoss | null {
  if (loss === null || held === null || !(held > 0)) return null;
  const isBlind = held < shortestHold;
  const standard = held < betweenHolds ? 60 : 300;
  return {
    loss: isBlind ? loss : lossOver(standard, { loss, held, from }),
    standard,
    caution: standard === 60 ? limits.hold60Caution : limits.hold300Caution,
    stop: standard === 60 ? limits.hold60Stop : limits.hold300Stop,
    isBlind,
  };
}
