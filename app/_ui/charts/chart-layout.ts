import type { ChartEvent, ChartSpec } from '@/app/_ui/charts/chart-spec';
import { quarterOf, quarterTicks } from '@/app/_ui/charts/quarter-ticks';
import { linearScale, roundTicks, type Scale } from '@/app/_ui/charts/scale';

/** Size of the drawing in its own units; text is 13 of them high. */
export interface ChartSize {
  readonly width: number;
  readonly height: number;
  readonly dateLabels: number;
  readonly valueSteps: number;
}

export const wideSize = (height: number): ChartSize => ({
  width: 800,
  height,
  dateLabels: 9,
  valueSteps: height > 220 ? 6 : 4,
});
export const narrowSize = (height: number): ChartSize => ({
  width: 340,
  height: Math.min(height, 250),
  dateLabels: 4,
  valueSteps: height > 220 ? 5 : 4,
});

interface PlacedEvent extends ChartEvent {
  readonly x: number;
  readonly lane: number;
  readonly anchor: 'start' | 'end';
}

export interface ChartLayout {
  readonly x: Scale;
  readonly y: Scale;
  readonly valueTicks: readonly number[];
  readonly dateTicks: ReturnType<typeof quarterTicks>;
  readonly plot: { left: number; right: number; top: number; bottom: number };
  readonly events: readonly PlacedEvent[];
  /** Height of the drops for oil in the line, below the plot; null when there are none. */
  readonly oilRow: number | null;
  readonly dateRow: number;
}

const laneHeight = 16;
export const widthOfText = (text: string): number => text.length * 7 + 10;

/** Days drawn: at least the year behind and the quarter ahead, at most the year ahead. */
export function chartDays({ today, points, forecast, passage }: ChartSpec): [number, number] {
  const first = Math.min(today - 365, ...points.map(({ day }) => day));
  const ahead = [today + 91, ...forecast.map(({ day }) => day), passage?.latest ?? today];
  return [quarterOf(first), Math.min(today + 365, Math.max(...ahead))];
}

/** Values drawn: readings, limits and the 80% band. An amended first value may lie outside. */
export function chartValues(spec: ChartSpec, steps: number): readonly number[] {
  const shown = [
    ...spec.points.flatMap(({ value, second }) => (second === null ? [value] : [value, second])),
    ...spec.limits.map(({ value }) => value),
  ];
  const span = Math.max(...shown) - Math.min(...shown);
  // A limit's name needs room beyond its line.
  const rooms = spec.limits.map(({ value, stay }) =>
    stay === 'above' ? value - span / 10 : value + span / 10,
  );
  const low = Math.min(...shown, ...rooms);
  const high = Math.max(...shown, ...rooms);
  // The band may widen the axis by a third at most: far ahead it says little.
  const room = (high - low) / 3;
  const bandLow = Math.min(low, ...spec.forecast.map(({ low80 }) => low80));
  const bandHigh = Math.max(high, ...spec.forecast.map(({ high80 }) => high80));
  if (shown.length === 0) return roundTicks(0, 1, steps);
  return roundTicks(
    Math.max(Math.min(low, 0), bandLow, low - room),
    Math.min(bandHigh, high + room),
    steps,
  );
}

function joinSameDay(events: readonly ChartEvent[]): readonly ChartEvent[] {
  const byDay = new Map<number, ChartEvent>();
  for (const event of events) {
    const earlier = byDay.get(event.day);
    byDay.set(event.day, earlier ? { ...event, name: `${earlier.name}, ${event.name}` } : event);
  }
  return [...byDay.values()];
}

/** Names stand in lanes above the plot; each takes the first lane where it covers no other. */
function placeEvents(events: readonly ChartEvent[], x: Scale, right: number): PlacedEvent[] {
  const laneEnds: number[] = [];
  return joinSameDay(events.filter(({ day }) => day >= x.from && day <= x.to))
    .toSorted((a, b) => a.day - b.day)
    .map((event) => {
      const at = x.at(event.day);
      const width = widthOfText(event.name);
      const anchor = at + width > right ? 'end' : 'start';
      const from = anchor === 'end' ? at - width : at;
      const free = laneEnds.findIndex((end) => end <= from);
      const lane = free === -1 ? laneEnds.length : free;
      laneEnds[lane] = from + width;
      return { ...event, x: at, lane, anchor } as const;
    });
}

export function layOut(spec: ChartSpec, size: ChartSize): ChartLayout {
  const valueTicks = chartValues(spec, size.valueSteps);
  const left = 12 + 8 * Math.max(...valueTicks.map((tick) => String(tick).length));
  const right = size.width - 8;
  const x = linearScale(chartDays(spec), [left, right]);
  const today = { day: spec.today, name: 'today', breaksLine: false };
  const events = placeEvents([...spec.events, today], x, right);
  const lanes = 1 + Math.max(0, ...events.map(({ lane }) => lane));
  const top = 6 + lanes * laneHeight;
  const hasOil = spec.points.some(({ line }) => line !== null);
  const bottom = size.height - (hasOil ? 42 : 26);
  return {
    x,
    y: linearScale([valueTicks[0] ?? 0, valueTicks.at(-1) ?? 1], [bottom, top]),
    valueTicks,
    dateTicks: quarterTicks(x.from, x.to, size.dateLabels),
    plot: { left, right, top, bottom },
    events,
    oilRow: hasOil ? bottom + 14 : null,
    dateRow: size.height - 6,
  };
}

/** Height of an event's name in its lane. */
export const laneBaseline = (lane: number): number => 13 + lane * laneHeight;
