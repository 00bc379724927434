import { requireSamples, type Samples } from '@/lib/statistics/require-samples';

/**
 * When a path drawn straight between its points first reaches a limit from the side it starts on.
 * In the unit of t; null when it never does. A path that starts on the limit crosses at once.
 *
 * @example firstCrossing([0, 1, 2], [10, 8, 4], 6) -> 1.5
 */
export function firstCrossing(t: Samples, y: Samples, limit: number): number | null {
  requireSamples(t, y);
  if (t.length === 0) return null;
  const side = Math.sign(y[0]! - limit);
  if (side === 0) return t[0]!;
  for (let i = 1; i < t.length; i++) {
    if (Math.sign(y[i]! - limit) === side) continue;
    const share = (limit - y[i - 1]!) / (y[i]! - y[i - 1]!);
    return t[i - 1]! + share * (t[i]! - t[i - 1]!);
  }
  return null;
}
