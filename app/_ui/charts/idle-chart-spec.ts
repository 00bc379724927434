import type { ChartEvent, ChartSpec } from '@/app/_ui/charts/chart-spec';
import { forecast as forecastWords, interval } from '@/app/_ui/format';
import type { FirstPassage, ForecastPoint } from '@/lib/analysis/assessment';
import { type Fitment, type LineState, segmentParts } from '@/lib/analysis/reading';
import { isoFromDay } from '@/lib/calendar';
import {
  type DayNumber,
  fromKilopascals,
  type Kilopascals,
  type PressureUnit,
  pressureDecimals,
} from '@/lib/measure';

/** One reading's vacuum at both judgements, for charts of idle, lowest and hold loss. */
export interface VacuumPoint {
  readonly day: DayNumber;
  /** Sea-level equivalent, for wear. */
  readonly sle: Kilopascals;
  /** What was there, for braking. */
  readonly asRead: Kilopascals;
  readonly line: LineState;
  readonly unconfirmed: boolean;
  /** Sea-level equivalent of the value first recorded, where an amendment changed it. */
  readonly firstSle: Kilopascals | null;
}

export interface IdleChartInput {
  readonly unit: string;
  readonly pressureUnit: PressureUnit;
  readonly asOf: DayNumber;
  readonly points: readonly VacuumPoint[];
  readonly wearLimit: Kilopascals;
  readonly stopLimit: Kilopascals;
  readonly forecast: readonly ForecastPoint[];
  readonly passage: FirstPassage | null;
  readonly fitments: readonly Fitment[];
}

/** Every fitting on record as a mark on the date axis. */
export const fitmentEvents = (fitments: readonly Fitment[]): readonly ChartEvent[] =>
  fitments.flatMap(({ part, revision, fittedOn }) =>
    fittedOn === null
      ? []
      : [
          {
            day: fittedOn,
            name: revision === null ? part : `${part} ${revision}`,
            breaksLine: segmentParts.includes(part),
          },
        ],
  );

export const oilIn = (line: LineState): 'film' | 'wet' | null =>
  line === 'film' || line === 'wet' ? line : null;

export function idleChartSpec(input: IdleChartInput): ChartSpec {
  const { pressureUnit, asOf, passage } = input;
  const decimals = pressureDecimals[pressureUnit];
  const shown = (value: Kilopascals) => fromKilopascals(value, pressureUnit);
  const points = input.points.toSorted((a, b) => a.day - b.day);
  const differs = points.some(({ sle, asRead }) => Math.abs(sle - asRead) > 0.05);
  return {
    title: `Idle vacuum, ${pressureUnit}, sea-level equivalent`,
    description: describe(input, points),
    unit: pressureUnit,
    decimals,
    today: asOf,
    mainName: 'Sea-level equivalent',
    secondName: differs ? 'As read' : null,
    points: points.map(({ day, sle, asRead, line, unconfirmed, firstSle }) => ({
      day,
      value: shown(sle),
      second: differs ? shown(asRead) : null,
      unconfirmed,
      line: oilIn(line),
      firstValue: firstSle === null ? null : shown(firstSle),
      note: null,
    })),
    limits: [
      { name: 'Wear limit', value: shown(input.wearLimit), isStop: false, stay: 'above' },
      { name: 'Stop, as read', value: shown(input.stopLimit), isStop: true, stay: 'above' },
    ],
    forecast: input.forecast.map(({ day, median, low80, high80, low95, high95 }) => ({
      day,
      median: shown(median),
      low80: shown(low80),
      high80: shown(high80),
      low95: shown(low95),
      high95: shown(high95),
    })),
    passage:
      passage === null || passage.earliest80 === null
        ? null
        : {
            earliest: Math.max(asOf, passage.earliest80),
            latest: passage.latest80,
            limit: shown(input.wearLimit),
            words: interval(passage, asOf).replace('8 in 10: ', ''),
          },
    events: fitmentEvents(input.fitments),
  };
}

function describe(input: IdleChartInput, points: readonly VacuumPoint[]): string {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) return `Unit ${input.unit} was never read.`;
  const { pressureUnit, asOf, passage } = input;
  const figure = (value: Kilopascals) =>
    fromKilopascals(value, pressureUnit).toFixed(pressureDecimals[pressureUnit]);
  const course =
    points.length === 1
      ? `Idle vacuum of unit ${input.unit} was ${figure(last.sle)} ${pressureUnit} on ${isoFromDay(last.day)}, the only reading.`
      : `Idle vacuum of unit ${input.unit} went from ${figure(first.sle)} to ${figure(last.sle)} ${pressureUnit} over ${points.length} readings, ${isoFromDay(first.day)} to ${isoFromDay(last.day)}.`;
  if (passage === null) return course;
  const limit = `wear limit of ${figure(input.wearLimit)} ${pressureUnit}`;
  return passage.median === null
    ? `${course} Forecast of the ${limit}: ${interval(passage, asOf)}.`
    : `${course} The forecast meets the ${limit} ${forecastWords(passage, asOf)}.`;
}
