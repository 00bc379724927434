import type { ChartBandPoint, ChartEvent, ChartPoint } from '@/app/_ui/charts/chart-spec';
import type { Scale } from '@/app/_ui/charts/scale';

const place = (x: number, y: number): string => `${x.toFixed(1)} ${y.toFixed(1)}`;

/** Readings in order of day, parted where a new source of vacuum was fitted. */
export function partAtEvents(
  points: readonly ChartPoint[],
  events: readonly ChartEvent[],
): readonly (readonly ChartPoint[])[] {
  const breaks = events.filter(({ breaksLine }) => breaksLine).map(({ day }) => day);
  const parts: ChartPoint[][] = [];
  for (const point of points.toSorted((a, b) => a.day - b.day)) {
    const previous = parts.at(-1)?.at(-1);
    const isParted =
      previous === undefined || breaks.some((day) => previous.day < day && day <= point.day);
    if (isParted) parts.push([point]);
    else parts.at(-1)?.push(point);
  }
  return parts;
}

/** Straight pieces through the given values; empty when nothing is to be joined. */
export function linePath(
  parts: readonly (readonly ChartPoint[])[],
  read: (point: ChartPoint) => number | null,
  x: Scale,
  y: Scale,
): string {
  return parts
    .map((part) =>
      part.flatMap((point) => {
        const value = read(point);
        return value === null ? [] : [place(x.at(point.day), y.at(value))];
      }),
    )
    .filter((places) => places.length > 1)
    .map((places) => `M${places.join('L')}`)
    .join('');
}

/** Closed band between two edges of a forecast; empty with fewer than two points. */
export function bandPath(
  forecast: readonly ChartBandPoint[],
  low: (point: ChartBandPoint) => number,
  high: (point: ChartBandPoint) => number,
  x: Scale,
  y: Scale,
): string {
  if (forecast.length < 2) return '';
  const edge = (value: (point: ChartBandPoint) => number) =>
    forecast.map((point) => place(x.at(point.day), y.at(value(point))));
  return `M${[...edge(high), ...edge(low).reverse()].join('L')}Z`;
}

export function medianPath(forecast: readonly ChartBandPoint[], x: Scale, y: Scale): string {
  if (forecast.length < 2) return '';
  return `M${forecast.map(({ day, median }) => place(x.at(day), y.at(median))).join('L')}`;
}
