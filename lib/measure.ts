/**
 * Units of measure. Stored and computed values are SI, branded so that mixing two fails to compile;
 * people key and read psi, inHg or kPa and miles or kilometres.
 *
 * Source of the factors: NIST SP 811 (2008), Appendix B: psi 6.894757 kPa; conventional inch of
 * mercury 3.386389 kPa; international mile 1.609344 km (exact); pound-force foot 1.355818 N m.
 */
declare const unitOfMeasure: unique symbol;
type Measured<Unit extends string> = number & { readonly [unitOfMeasure]?: Unit };

/** Vacuum is kilopascals below ambient, positive downward; ambient pressure is absolute. */
export type Kilopascals = Measured<'kPa'>;
export type Seconds = Measured<'s'>;
export type Kilometres = Measured<'km'>;
export type Metres = Measured<'m'>;
/** Whole days since 1970-01-01 in the calendar of the shed. */
export type DayNumber = Measured<'day'>;

export const pressureUnits = ['psi', 'inHg', 'kPa'] as const;
export type PressureUnit = (typeof pressureUnits)[number];
export const distanceUnits = ['mi', 'km'] as const;
export type DistanceUnit = (typeof distanceUnits)[number];

export const kilopascalsPerUnit: Record<PressureUnit, number> = {
  psi: 6.894757,
  inHg: 3.386389,
  kPa: 1,
};
export const kilometresPerUnit: Record<DistanceUnit, number> = { mi: 1.609344, km: 1 };
export const newtonMetresPerPoundFoot = 1.355818;

/** `toKilopascals(8, 'inHg')` is 27.091112. */
export const toKilopascals = (value: number, unit: PressureUnit): Kilopascals =>
  value * kilopascalsPerUnit[unit];
export const fromKilopascals = (value: Kilopascals, unit: PressureUnit): number =>
  value / kilopascalsPerUnit[unit];
export const toKilometres = (value: number, unit: DistanceUnit): Kilometres =>
  value * kilometresPerUnit[unit];
export const fromKilometres = (value: Kilometres, unit: DistanceUnit): number =>
  value / kilometresPerUnit[unit];

/** Decimals that a bay gauge can show in each unit. */
export const pressureDecimals: Record<PressureUnit, number> = { psi: 1, inHg: 1, kPa: 1 };

/** `formatPressure(82.7, 'psi')` is `12.0 psi`. */
export const formatPressure = (value: Kilopascals, unit: PressureUnit): string =>
  `${fromKilopascals(value, unit).toFixed(pressureDecimals[unit])} ${unit}`;

/** `formatDistance(80467.2, 'mi')` is `50,000 mi`. */
export const formatDistance = (value: Kilometres, unit: DistanceUnit): string =>
  `${Math.round(fromKilometres(value, unit)).toLocaleString('en-US')} ${unit}`;
