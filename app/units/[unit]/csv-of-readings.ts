import type { SheetReading } from '@/db/reads/unit-sheet-readings';
import type { Keyed } from '@/db/schema';
import type { UnitsOfMeasure } from '@/lib/analysis/rules';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import { isoFromDay } from '@/lib/calendar';
import { fromKilometres, fromKilopascals } from '@/lib/measure';
import { csv } from '@/lib/outflow/csv';

/** Newest first, as on the sheet. */
export function csvOfReadings(
  readings: readonly SheetReading[],
  setAside: UnitAssessment['setAside'],
  units: UnitsOfMeasure,
): string {
  const why = new Map(setAside.map((one) => [one.readingId, one.why]));
  const vacuum = (value: number | null) =>
    value === null ? null : Number(fromKilopascals(value, units.pressure).toFixed(3));
  const far = (value: number | null) =>
    value === null ? null : Math.round(fromKilometres(value, units.distance));
  const { pressure, distance } = units;
  const header = [
    'read on',
    'read at (UTC)',
    'line',
    `idle as read (${pressure})`,
    `idle first recorded (${pressure})`,
    `idle at sea level (${pressure})`,
    `raised (${pressure})`,
    `lowest as read (${pressure})`,
    `lowest at sea level (${pressure})`,
    'recovery (s)',
    `hold loss (${pressure})`,
    'hold time (s)',
    'pedal',
    'belt',
    `odometer (${distance})`,
    'ambient (kPa)',
    'by',
    'gauge',
    'proof',
    'amended',
    'set aside because',
    'note',
    'as keyed',
  ];
  const rows = readings.map(({ counts, first, ...one }) => [
    isoFromDay(counts.readOn),
    one.readAt.toISOString(),
    counts.line,
    vacuum(counts.idle),
    vacuum(first.idle),
    vacuum(one.idleSle),
    vacuum(counts.raised),
    vacuum(counts.lowest),
    vacuum(one.lowestSle),
    counts.recovery,
    vacuum(counts.holdLoss),
    counts.holdTime,
    counts.pedal,
    counts.belt,
    far(counts.odometer),
    Number(one.ambient.toFixed(2)),
    one.by,
    counts.gauge,
    one.isProof ? 'yes' : 'no',
    one.isAmended ? 'yes' : 'no',
    why.get(counts.id) ?? null,
    one.note,
    keyedWords(one.keyed),
  ]);
  return csv(header, rows);
}

const keyedWords = (keyed: Keyed): string =>
  Object.entries(keyed)
    .map(([field, one]) => [field, one?.value, one?.unit].filter(Boolean).join(' '))
    .join('; ');
