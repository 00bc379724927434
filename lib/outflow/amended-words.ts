const columnWords = {
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
} as const;

/** A column of a reading that an amendment may change. */
export type AmendedColumn = keyof typeof columnWords;
type Values = Readonly<Partial<Record<AmendedColumn, unknown>>>;

const shown = (value: unknown): string => {
  if (value === null || value === undefined) return 'not measured';
  return typeof value === 'number' ? value.toFixed(2) : String(value);
};

/**
 * One line a changed column, first value and new value, kPa, s and km as stored.
 * Source: own choice. Thin data: a value that was not measured says so.
 *
 * @example amendedWords({ line: 'dry' }, { line: 'film' }) is ['line: dry, then film']
 */
export const amendedWords = (before: Values, after: Values): string[] =>
  (Object.keys(after) as AmendedColumn[]).map(
    (column) => `${columnWords[column]}: ${shown(before[column])}, then ${shown(after[column])}`,
  );
