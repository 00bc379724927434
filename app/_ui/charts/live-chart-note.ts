import type { ChartSpec } from '@/app/_ui/charts/chart-spec';
import { isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';

/** What the chart knows nearest to a day, as lines of text: a reading, or ahead of today the forecast. */
export function noteLines(spec: ChartSpec, day: DayNumber): readonly string[] {
  const nearest = <Dated extends { readonly day: DayNumber }>(all: readonly Dated[]) =>
    all.reduce<Dated | null>(
      (best, each) =>
        best === null || Math.abs(each.day - day) < Math.abs(best.day - day) ? each : best,
      null,
    );
  const figure = (value: number) => `${value.toFixed(spec.decimals)} ${spec.unit}`;
  const point = nearest(spec.points);
  const ahead = nearest(spec.forecast);
  if (ahead !== null && day > spec.today && (point === null || day > point.day)) {
    return [
      `Forecast ${isoFromDay(ahead.day)}`,
      `middle ${figure(ahead.median)}`,
      `8 in 10: ${ahead.low80.toFixed(spec.decimals)} to ${figure(ahead.high80)}`,
      `95 in 100: ${ahead.low95.toFixed(spec.decimals)} to ${figure(ahead.high95)}`,
    ];
  }
  if (point === null) return [];
  const { second, unconfirmed, line, firstValue, note } = point;
  return [
    isoFromDay(point.day),
    `${spec.mainName} ${figure(point.value)}`,
    second === null || spec.secondName === null ? '' : `${spec.secondName} ${figure(second)}`,
    unconfirmed ? 'not yet confirmed' : '',
    line === null ? '' : line === 'film' ? 'oil film in the line' : 'line wet with oil',
    firstValue === null ? '' : `first recorded as ${figure(firstValue)}, amended`,
    note ?? '',
  ].filter((each) => each !== '');
}

/** Built of text nodes: no markup is parsed and no inline style is needed. */
export function liveChartNote(spec: ChartSpec, day: DayNumber): HTMLElement {
  const box = document.createElement('div');
  for (const line of noteLines(spec, day)) {
    const row = document.createElement('div');
    row.textContent = line;
    box.append(row);
  }
  return box;
}
