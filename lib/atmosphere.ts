import type { Kilopascals, Metres } from '@/lib/measure';

export const seaLevelPressure: Kilopascals = 101.325;

/**
 * Ambient pressure of the standard atmosphere at an elevation, troposphere only.
 * p = 101.325 (1 - 0.0065 h / 288.15)^5.2558761133, h in metres (geopotential; the difference from
 * geometric height is below 0.03% of h under 2,000 m).
 * Source: ISO 2533:1975 and US Standard Atmosphere 1976.
 *
 * @example ambientPressureAt(1500) is 84.556 kPa
 */
export function ambientPressureAt(elevation: Metres): Kilopascals {
  return seaLevelPressure * (1 - (0.0065 * elevation) / 288.15) ** 5.2558761133;
}

/**
 * Vacuum as a displacement pump of the same health would pull at sea level: it reaches a constant
 * pressure ratio, so wear is judged on the share of ambient pressure, not on the difference.
 */
export const seaLevelEquivalent = (vacuum: Kilopascals, ambient: Kilopascals): Kilopascals =>
  vacuum * (seaLevelPressure / ambient);
