import type { CustomSeriesOption, LineSeriesOption, ScatterSeriesOption } from 'echarts/charts';
import type {
  DataZoomComponentOption,
  GridComponentOption,
  MarkLineComponentOption,
  TooltipComponentOption,
} from 'echarts/components';
import type { ComposeOption } from 'echarts/core';
import type { ChartColours } from '@/app/_ui/charts/chart-colours';
import { type ChartSize, layOut } from '@/app/_ui/charts/chart-layout';
import type { ChartSpec } from '@/app/_ui/charts/chart-spec';
import { liveChartMarks } from '@/app/_ui/charts/live-chart-marks';
import { liveChartNote } from '@/app/_ui/charts/live-chart-note';
import { liveChartSeries } from '@/app/_ui/charts/live-chart-series';

export type LiveChartOption = ComposeOption<
  | CustomSeriesOption
  | DataZoomComponentOption
  | GridComponentOption
  | LineSeriesOption
  | MarkLineComponentOption
  | ScatterSeriesOption
  | TooltipComponentOption
>;

/** The same spec as the server's drawing, laid out so that the plots lie one upon the other. */
export function liveChartOption(
  spec: ChartSpec,
  size: ChartSize,
  zoom: number,
  colours: ChartColours,
): LiveChartOption {
  const layout = layOut(spec, size);
  const { x, y, valueTicks, dateTicks, plot, oilRow } = layout;
  const text = { color: colours.ink, fontFamily: colours.font, fontSize: 13 * zoom };
  const labelOf = new Map(dateTicks.map(({ day, label }) => [day, label]));

  return {
    animation: false,
    textStyle: text,
    grid: {
      left: plot.left * zoom,
      right: (size.width - plot.right) * zoom,
      top: plot.top * zoom,
      bottom: (size.height - plot.bottom) * zoom,
    },
    tooltip: {
      trigger: 'axis',
      confine: true,
      transitionDuration: 0,
      backgroundColor: colours.panel,
      borderColor: colours.ink,
      textStyle: { ...text, fontSize: 14 },
      axisPointer: { type: 'line', lineStyle: { color: colours.mute, type: 'solid' } },
      formatter: (params) => {
        const [first] = Array.isArray(params) ? params : [params];
        return liveChartNote(spec, axisDay(first));
      },
    },
    dataZoom: [
      {
        type: 'inside',
        filterMode: 'none',
        zoomOnMouseWheel: 'ctrl',
        moveOnMouseWheel: false,
        preventDefaultMouseMove: false,
        minValueSpan: 28,
      },
    ],
    xAxis: {
      type: 'value',
      min: x.from,
      max: x.to,
      axisLine: { show: false },
      splitLine: { show: false },
      axisTick: {
        show: true,
        customValues: [...labelOf.keys()],
        lineStyle: { color: colours.mute },
      },
      axisLabel: {
        ...text,
        margin: (oilRow === null ? 8 : 24) * zoom,
        customValues: dateTicks.filter(({ label }) => label).map(({ day }) => day),
        formatter: (day: number) => labelOf.get(day) ?? '',
      },
    },
    yAxis: {
      type: 'value',
      min: y.from,
      max: y.to,
      axisLine: { show: false },
      interval: (y.to - y.from) / (valueTicks.length - 1),
      axisTick: { show: false },
      axisLabel: { ...text, margin: 7 * zoom },
      splitLine: { lineStyle: { color: colours.grid } },
    },
    series: [
      {
        type: 'line',
        data: [],
        markLine: {
          silent: true,
          symbol: 'none',
          label: { ...text, fontWeight: 'bold', position: 'insideStartBottom' },
          data: liveChartMarks(spec, layout, zoom, colours),
        },
      },
      ...liveChartSeries(spec, layout, zoom, colours),
    ],
  };
}

/** The tooltip is given the value of the date axis under the pointer. */
const axisDay = (params: unknown): number =>
  typeof params === 'object' &&
  params !== null &&
  'axisValue' in params &&
  typeof params.axisValue === 'number'
    ? params.axisValue
    : 0;
