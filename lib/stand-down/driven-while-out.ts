import { type Kilometres, toKilometres } from '@/lib/measure';

/** A road test that the record need not explain. Own choice. */
export const roadTestAllowance: Kilometres = toKilometres(5, 'mi');

/**
 * Distance that a unit went while it was out of service, kilometres, beyond logged road tests.
 * Source: own choice of the allowance, one road test of 5 miles (8.05 km) where none is logged.
 * Thin data: without an odometer on both sides, null; an odometer that went backwards gives null too,
 * since a changed cluster shows no driving.
 *
 * @example drivenWhileOut(1_000, 1_010) is 10, drivenWhileOut(1_000, 1_008) is null
 */
export function drivenWhileOut(
  odometerAtOpening: Kilometres | null,
  odometerNow: Kilometres | null,
): Kilometres | null {
  if (odometerAtOpening === null || odometerNow === null) return null;
  const driven = odometerNow - odometerAtOpening;
  return driven > roadTestAllowance ? driven : null;
}
