import type { Fact } from '@/app/_ui/facts';
import { distance, isoDate, pressure } from '@/app/_ui/format';
import type { UnitOnSheet } from '@/db/reads/unit-on-sheet';
import type { UnitsOfMeasure } from '@/lib/analysis/rules';
import { ambientPressureAt } from '@/lib/atmosphere';

/** What the unit is, where it stands and when it was last read. */
export function unitFacts({ unit, shed, verdict }: UnitOnSheet, units: UnitsOfMeasure): Fact[] {
  const latest = verdict?.assessment.latest ?? null;
  const pad = (part: number) => String(part).padStart(2, '0');
  const built = [unit.builtYear, unit.builtMonth, unit.builtDay]
    .filter((part) => part !== null)
    .map(pad)
    .join('-');
  const facts: (Fact | false)[] = [
    {
      term: unit.body,
      value: [unit.make, unit.model, unit.engine].filter(Boolean).join(' '),
    },
    built !== '' && { term: 'Built', value: built },
    unit.vin !== null && { term: 'VIN', value: unit.vin },
    {
      term: 'Shed',
      value: `${shed.name}, ${Math.round(shed.elevationM)} m: standard air there ${pressure(ambientPressureAt(shed.elevationM), units.pressure)}`,
    },
    latest !== null && { term: 'Odometer', value: distance(latest.odometer, units.distance) },
    latest !== null && { term: 'Last sound reading', value: isoDate(latest.readOn) },
    unit.laidUpOn !== null && { term: 'Laid up', value: unit.laidUpOn },
    unit.leftFleetOn !== null && { term: 'Left the fleet', value: unit.leftFleetOn },
  ];
  return facts.filter((fact) => fact !== false);
}
