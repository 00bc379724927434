import type { ChartLimit, ChartSpec } from '@/app/_ui/charts/chart-spec';
import { fitmentEvents, oilIn } from '@/app/_ui/charts/idle-chart-spec';
import type { Fitment, LineState } from '@/lib/analysis/reading';
import { isoFromDay } from '@/lib/calendar';
import {
  type DayNumber,
  fromKilopascals,
  type PressureUnit,
  pressureDecimals,
} from '@/lib/measure';

/** One reading's value in SI: kPa for lowest and hold loss, seconds for recovery. */
export interface MeasurePoint {
  readonly day: DayNumber;
  readonly value: number;
  /** The vacuum as read, where `value` is its sea-level equivalent. */
  readonly asRead?: number;
  readonly line: LineState;
  readonly firstValue?: number;
  readonly note?: string;
}

export interface MeasureChartInput {
  readonly unit: string;
  /** `Recovery after four presses`, `Lowest over four presses`, `Lost in 60 s`. */
  readonly name: string;
  readonly measure: PressureUnit | 's';
  readonly asOf: DayNumber;
  readonly points: readonly MeasurePoint[];
  /** In SI. */
  readonly limits: readonly ChartLimit[];
  readonly fitments: readonly Fitment[];
}

/** Recovery, lowest or hold loss over time, without a forecast. */
export function measureChartSpec(input: MeasureChartInput): ChartSpec {
  const { measure } = input;
  const shown = (value: number) => (measure === 's' ? value : fromKilopascals(value, measure));
  const decimals = measure === 's' ? 1 : pressureDecimals[measure];
  const points = input.points.toSorted((a, b) => a.day - b.day);
  const hasSecond = points.some(
    ({ value, asRead }) => asRead !== undefined && Math.abs(asRead - value) > 0.05,
  );
  return {
    title: `${input.name}, ${measure}`,
    description: describe(input, points, (value) => `${shown(value).toFixed(decimals)} ${measure}`),
    unit: measure,
    decimals,
    today: input.asOf,
    mainName: hasSecond ? 'Sea-level equivalent' : input.name,
    secondName: hasSecond ? 'As read' : null,
    points: points.map(({ day, value, asRead, line, firstValue, note }) => ({
      day,
      value: shown(value),
      second: hasSecond && asRead !== undefined ? shown(asRead) : null,
      unconfirmed: false,
      line: oilIn(line),
      firstValue: firstValue === undefined ? null : shown(firstValue),
      note: note ?? null,
    })),
    limits: input.limits.map((limit) => ({ ...limit, value: shown(limit.value) })),
    forecast: [],
    passage: null,
    events: fitmentEvents(input.fitments),
  };
}

function describe(
  { unit, name, limits }: MeasureChartInput,
  points: readonly MeasurePoint[],
  figure: (value: number) => string,
): string {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return `${name} of unit ${unit} was never read.`;
  const course =
    points.length === 1
      ? `${name} of unit ${unit} was ${figure(last.value)} on ${isoFromDay(last.day)}, the only reading.`
      : `${name} of unit ${unit} went from ${figure(first.value)} to ${figure(last.value)} over ${points.length} readings, ${isoFromDay(first.day)} to ${isoFromDay(last.day)}.`;
  const against = limits.map((limit) => `${limit.name} ${figure(limit.value)}`).join(', ');
  return against ? `${course} ${against}.` : course;
}
