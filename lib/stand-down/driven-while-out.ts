import { type Kilometres, toKilometres } from '@/lib/measure';

/** How far one road test may go. Own choice. */
export const roadTestAllowance: Kilometres = toKilometres(5, 'mi');

/**
 * Distance that a unit went while it was out of service, kilometres, beyond its road tests.
 * Source: own choice of the allowance: 5 miles (8.05 km) for each road test logged, and for one
 * where none is. Thin data: without an odometer on both sides, null; an odometer that went backwards
 * gives null too, since a changed cluster shows no driving.
 *
 * @example drivenWhileOut(1_000, 1_010) is 10, drivenWhileOut(1_000, 1_008) is null
 */
export function drivenWhileOut(
  odometerWhenOut: Kilometres | null,
  odometerNow: Kilometres | null,
  roadTestsLogged = 0,
): Kilometres | null {
  if (odometerWhenOut === null || odometerNow === null) return null;
  const driven = odometerNow - odometerWhenOut;
  return driven > roadTestAllowance * Math.max(1, roadTestsLogged) ? driven : null;
}
