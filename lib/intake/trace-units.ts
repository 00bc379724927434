import { kilopascalsPerUnit } from '@/lib/measure';

/** What logging gauges write pressure in: the units of the trade, and three of other trades. */
const kilopascalsPer = {
  ...kilopascalsPerUnit,
  mbar: 0.1,
  bar: 100,
  mmHg: 0.1333224,
} as const;
export type TracePressureUnit = keyof typeof kilopascalsPer;
export const tracePressureUnits = Object.keys(kilopascalsPer) as readonly TracePressureUnit[];

const secondsPer = { s: 1, ms: 0.001, min: 60 } as const;
export type TraceTimeUnit = keyof typeof secondsPer;
export const traceTimeUnits = Object.keys(secondsPer) as readonly TraceTimeUnit[];

export const kilopascalsOf = (value: number, unit: TracePressureUnit): number =>
  value * kilopascalsPer[unit];
export const secondsOf = (value: number, unit: TraceTimeUnit): number => value * secondsPer[unit];

const pressureNames: readonly (readonly [TracePressureUnit, RegExp])[] = [
  ['psi', /psi/i],
  ['inHg', /in[^a-z]*hg/i],
  ['kPa', /kpa/i],
  ['mbar', /mbar|millibar|hpa/i],
  ['bar', /(^|[^a-z])bar([^a-z]|$)/i],
  ['mmHg', /mm[^a-z]*hg|torr/i],
];

/** `pressureUnitIn('vacuum_psi')` is `psi`; null where no heading names a unit. */
export const pressureUnitIn = (heading: string): TracePressureUnit | null =>
  pressureNames.find(([, named]) => named.test(heading))?.[0] ?? null;

/** `timeUnitIn('t_ms')` is `ms`; seconds where the heading names no unit. */
export function timeUnitIn(heading: string): TraceTimeUnit {
  if (/(^|[^a-z])ms([^a-z]|$)|msec|milli/i.test(heading)) return 'ms';
  return /(^|[^a-z])min(utes?)?([^a-z]|$)/i.test(heading) ? 'min' : 's';
}

/** Absolute pressure goes up where vacuum goes down, and by how much hangs on the day's weather. */
export const isAbsolute = (heading: string): boolean =>
  /(^|[^a-z])abs(olute)?([^a-z]|$)|psia/i.test(heading);
