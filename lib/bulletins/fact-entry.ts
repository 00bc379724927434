import { parts } from '@/lib/analysis/reading';

/** Where a missing fact is entered: a field of the unit's facts, or a reading. */
export type FactEntry =
  | { readonly by: 'unit facts'; readonly field: string }
  | { readonly by: 'reading' };

const fields: Readonly<Record<string, string>> = {
  make: 'make',
  model: 'model',
  engine: 'engine',
  'model year': 'modelYear',
  'build date': 'built',
  'month of build': 'built',
  'day of build': 'built',
  VIN: 'vin',
  'VIN sequence': 'vin',
  plant: 'vin',
};

/**
 * Where somebody who has found a missing fact writes it down. Whatever is not of the plate, the label
 * or a part is measured, and comes with a reading.
 *
 * Example: `month of build` is entered in the field `built` of the unit's facts.
 */
export function factEntry(fact: string): FactEntry {
  const part = parts.find(
    (one) => fact.startsWith(`${one} `) || fact.startsWith(`week of the ${one} `),
  );
  if (part) {
    const isRevision = fact === `${part} revision`;
    return { by: 'unit facts', field: `${isRevision ? 'revision' : 'dateCode'}:${part}` };
  }
  const field = fields[fact];
  return field ? { by: 'unit facts', field } : { by: 'reading' };
}
