import type { AmendedValues } from '@/db/schema';

const columnWords: Record<keyof AmendedValues, string> = {
  idleVacuumKpa: 'idle, kPa',
  raisedVacuumKpa: 'raised, kPa',
  lowestKpa: 'lowest, kPa',
  recoveryS: 'recovery, s',
  holdLossKpa: 'hold loss, kPa',
  holdTimeS: 'hold time, s',
  line: 'line',
  pedal: 'pedal',
  belt: 'belt',
  barometerKpa: 'barometer, kPa',
  odometerKm: 'odometer, km',
  note: 'note',
};

const shown = (value: unknown): string => {
  if (value === null || value === undefined) return 'not measured';
  return typeof value === 'number' ? value.toFixed(2) : String(value);
};

/** One line a changed column: `idle, kPa: 41.37, then 89.63`. */
export const amendedWords = (before: AmendedValues, after: AmendedValues): string[] =>
  (Object.keys(after) as (keyof AmendedValues)[]).map(
    (column) => `${columnWords[column]}: ${shown(before[column])}, then ${shown(after[column])}`,
  );
