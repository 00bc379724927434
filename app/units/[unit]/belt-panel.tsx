import { type Fact, Facts } from '@/app/_ui/facts';
import { distance, forecast, isoDate } from '@/app/_ui/format';
import { Panel } from '@/app/_ui/panel';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { DistanceUnit } from '@/lib/measure';

interface BeltPanelProps {
  readonly assessment: UnitAssessment;
  readonly distanceUnit: DistanceUnit;
}

const why = {
  'no odometer': 'No odometer on record.',
  'no belt on record': 'No fitting of a belt on record.',
  'no rate': 'Too few odometers to know how far it goes in a week.',
} as const;

export function BeltPanel({ assessment, distanceUnit }: BeltPanelProps) {
  const { belt, asOf, latest } = assessment;
  const dates = {
    median: belt.due,
    earliest80: belt.earliest80,
    latest80: belt.latest80,
    whyNone: null,
  };
  const facts: (Fact | false)[] = [
    { term: 'Due', value: `${isoDate(belt.due)}, ${forecast(dates, asOf)}` },
    belt.distanceLeft !== null && {
      term: 'Left',
      value:
        belt.distanceLeft < 0
          ? `${distance(-belt.distanceLeft, distanceUnit)} over`
          : distance(belt.distanceLeft, distanceUnit),
    },
    belt.rate !== null && { term: 'A week', value: distance(belt.rate * 7, distanceUnit) },
    latest?.belt != null && { term: 'Last seen', value: latest.belt },
    belt.setAside.length > 0 && {
      term: 'Set aside',
      value: `${belt.setAside.length} odometer${belt.setAside.length === 1 ? '' : 's'}`,
    },
  ];
  return (
    <Panel title="Pump belt">
      {belt.whyNone === null ? (
        <Facts facts={facts.filter((fact) => fact !== false)} />
      ) : (
        <p>{why[belt.whyNone]}</p>
      )}
    </Panel>
  );
}
