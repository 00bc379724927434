import type { ChartLimit, ChartSpec } from '@/app/_ui/charts/chart-spec';
import type { VacuumPoint } from '@/app/_ui/charts/idle-chart-spec';
import { type MeasurePoint, measureChartSpec } from '@/app/_ui/charts/measure-chart-spec';
import type { SheetReading } from '@/db/reads/unit-sheet-readings';
import { holdLossOf } from '@/lib/analysis/hold-loss';
import type { Limits } from '@/lib/analysis/limits';
import type { Fitment } from '@/lib/analysis/reading';
import type { UnitAssessment } from '@/lib/analysis/unit-assessment';
import type { DayNumber, PressureUnit } from '@/lib/measure';

export function idlePoints(
  readings: readonly SheetReading[],
  assessment: UnitAssessment | null,
): readonly VacuumPoint[] {
  const newest = assessment?.latest;
  return readings.flatMap(({ counts, idleSle, firstIdleSle, first }) =>
    counts.idle === null || idleSle === null
      ? []
      : [
          {
            day: counts.readOn,
            sle: idleSle,
            asRead: counts.idle,
            line: counts.line,
            unconfirmed: newest?.isUnconfirmed === true && newest.readingId === counts.id,
            firstSle: first.idle === counts.idle ? null : firstIdleSle,
          },
        ],
  );
}

interface Shared {
  readonly unit: string;
  readonly asOf: DayNumber;
  readonly fitments: readonly Fitment[];
  readonly limits: Limits;
  readonly pressureUnit: PressureUnit;
}

/** Recovery, lowest and hold loss over time; a hold of another length stands in a chart of its own. */
export function measureCharts(
  readings: readonly SheetReading[],
  { unit, asOf, fitments, limits, pressureUnit }: Shared,
): readonly ChartSpec[] {
  const chart = (
    name: string,
    measure: PressureUnit | 's',
    points: readonly MeasurePoint[],
    chartLimits: readonly ChartLimit[],
  ) => measureChartSpec({ unit, name, measure, asOf, points, limits: chartLimits, fitments });
  const holds60 = holdPoints(readings, limits, 60);
  const holds300 = holdPoints(readings, limits, 300);
  const charts = [
    chart(
      'Recovery after four presses',
      's',
      recoveryPoints(readings),
      both('below', limits.recoveryCaution, limits.recoveryStop),
    ),
    chart('Lowest over four presses', pressureUnit, lowestPoints(readings), [
      { name: 'Caution', value: limits.lowestCautionSle, isStop: false, stay: 'above' },
      { name: 'Stop, as read', value: limits.lowestStopAsRead, isStop: true, stay: 'above' },
    ]),
    chart(
      'Lost in 60 s',
      pressureUnit,
      holds60,
      both('below', limits.hold60Caution, limits.hold60Stop),
    ),
  ];
  return holds300.length === 0
    ? charts
    : [
        ...charts,
        chart(
          'Lost in 5 min',
          pressureUnit,
          holds300,
          both('below', limits.hold300Caution, limits.hold300Stop),
        ),
      ];
}

const both = (stay: ChartLimit['stay'], caution: number, stop: number): readonly ChartLimit[] => [
  { name: 'Caution', value: caution, isStop: false, stay },
  { name: 'Stop', value: stop, isStop: true, stay },
];

const recoveryPoints = (readings: readonly SheetReading[]): MeasurePoint[] =>
  readings.flatMap(({ counts, first }) =>
    counts.recovery === null
      ? []
      : [
          {
            day: counts.readOn,
            value: counts.recovery,
            line: counts.line,
            ...changed(first.recovery, counts.recovery),
          },
        ],
  );

const lowestPoints = (readings: readonly SheetReading[]): MeasurePoint[] =>
  readings.flatMap(({ counts, lowestSle }) =>
    counts.lowest === null || lowestSle === null
      ? []
      : [{ day: counts.readOn, value: lowestSle, asRead: counts.lowest, line: counts.line }],
  );

function holdPoints(
  readings: readonly SheetReading[],
  limits: Limits,
  standard: 60 | 300,
): MeasurePoint[] {
  return readings.flatMap(({ counts }) => {
    const { holdLoss: loss, holdTime: held, idle: from } = counts;
    const hold = holdLossOf({ loss, held, from }, limits);
    if (hold === null || hold.standard !== standard) return [];
    const note = hold.isBlind
      ? `held only ${held} s: too short to show a leak`
      : held === standard
        ? undefined
        : `held ${held} s, converted`;
    return [
      {
        day: counts.readOn,
        value: hold.loss,
        line: counts.line,
        ...(note !== undefined && { note }),
      },
    ];
  });
}

const changed = (first: number | null, counts: number) =>
  first === null || first === counts ? {} : { firstValue: first };
