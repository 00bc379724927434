import type { ChartColours } from '@/app/_ui/charts/chart-colours';
import { type ChartLayout, laneBaseline } from '@/app/_ui/charts/chart-layout';
import type { ChartSpec } from '@/app/_ui/charts/chart-spec';

/** Limits across and events along, as mark lines. */
export function liveChartMarks(
  spec: ChartSpec,
  layout: ChartLayout,
  zoom: number,
  colours: ChartColours,
) {
  const limits = spec.limits.map(({ name, value, isStop, stay }) => ({
    yAxis: value,
    lineStyle: {
      color: colours.ink,
      width: 2.5,
      type: isStop ? [10, 3, 2, 3] : ('solid' as const),
    },
    label: {
      formatter: `${name} ${value.toFixed(spec.decimals)}`,
      position: stay === 'above' ? ('insideStartBottom' as const) : ('insideStartTop' as const),
    },
  }));
  const days = layout.events.map(({ day, name, lane, anchor }) => ({
    xAxis: day,
    lineStyle: {
      color: colours.mute,
      width: 1,
      type: name === 'today' ? ('solid' as const) : [2, 3],
    },
    label: {
      formatter: name,
      position: 'end' as const,
      distance: 0,
      fontWeight: 'normal' as const,
      align: anchor === 'end' ? ('right' as const) : ('left' as const),
      offset: [anchor === 'end' ? -4 : 4, (laneBaseline(lane) + 4 - layout.plot.top) * zoom],
    },
  }));
  return [...limits, ...days];
}
