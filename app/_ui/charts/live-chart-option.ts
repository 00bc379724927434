import type { CustomSeriesOption, LineSeriesOption, ScatterSeriesOption } from 'echarts/charts';
import type {
  DataZoomComponentOption,
  GridComponentOption,
  MarkLineComponentOption,
  TooltipComponentOption,
} from 'echarts/components';
import type { ComposeOption } from 'echarts/core';
import {
  type ChartLayout,
  type ChartSize,
  laneBaseline,
  layOut,
} from '@/app/_ui/charts/chart-layout';
import { partAtEvents } from '@/app/_ui/charts/chart-paths';
import type { ChartBandPoint, ChartPoint, ChartSpec } from '@/app/_ui/charts/chart-spec';
import { liveChartNote } from '@/app/_ui/charts/live-chart-note';

export type LiveChartOption = ComposeOption<
  | CustomSeriesOption
  | DataZoomComponentOption
  | GridComponentOption
  | LineSeriesOption
  | MarkLineComponentOption
  | ScatterSeriesOption
  | TooltipComponentOption
>;

/** Read from the page's tokens, so that the layer follows print and forced colours. */
export interface ChartColours {
  readonly ink: string;
  readonly mute: string;
  readonly edge: string;
  readonly panel: string;
  readonly grid: string;
  readonly band80: string;
  readonly band95: string;
  readonly act: string;
  readonly font: string;
}

const cross = 'path://M0 0L8 8M8 0L0 8';
const drop = 'path://M4 0C5.6 3.4 8 5 8 8A4 4 0 0 1 0 8C0 5 2.4 3.4 4 0Z';

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
  const parts = partAtEvents(spec.points, spec.events);
  const line = (read: (point: ChartPoint) => number | null, colour: string, width: number) =>
    parts.map(
      (part): LineSeriesOption => ({
        type: 'line',
        data: part.map((point) => [point.day, read(point)]),
        symbol: 'none',
        silent: true,
        lineStyle: { color: colour, width },
      }),
    );
  const scatter = (
    data: (readonly [number, number])[],
    look: Partial<ScatterSeriesOption>,
  ): ScatterSeriesOption => ({
    type: 'scatter',
    data: data.map((pair) => [...pair]),
    ...look,
    itemStyle: { opacity: 1, ...look.itemStyle },
  });
  const dots = (holds: (point: ChartPoint) => boolean): (readonly [number, number])[] =>
    spec.points.filter(holds).map(({ day, value }) => [day, value] as const);
  const oil = (kind: 'film' | 'wet'): (readonly [number, number])[] =>
    spec.points.filter((point) => point.line === kind).map(({ day }) => [day, y.from] as const);
  const oilLook = { symbol: drop, symbolSize: [8 * zoom, 12 * zoom], symbolOffset: [0, 13 * zoom] };

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
      band(spec.forecast, 'low95', 'high95', colours.band95),
      band(spec.forecast, 'low80', 'high80', colours.band80),
      {
        type: 'line',
        data: spec.forecast.map(({ day, median }) => [day, median]),
        symbol: 'none',
        lineStyle: { color: colours.ink, width: 2, type: [6, 4] },
        markLine: {
          silent: true,
          symbol: 'none',
          label: { ...text, fontWeight: 'bold', position: 'insideStartBottom' },
          data: marksOf(spec, layout, zoom, colours),
        },
      },
      ...line(({ second }) => second, colours.edge, 1.2),
      ...line(({ value }) => value, colours.ink, 2),
      scatter(
        dots(({ unconfirmed }) => !unconfirmed),
        { symbolSize: 9 * zoom, itemStyle: { color: colours.ink } },
      ),
      scatter(
        dots(({ unconfirmed }) => unconfirmed),
        {
          symbolSize: 9 * zoom,
          itemStyle: { color: colours.panel, borderColor: colours.ink, borderWidth: 2 },
        },
      ),
      scatter(
        spec.points.flatMap(({ day, firstValue }) =>
          firstValue === null ? [] : [[day, Math.min(y.to, Math.max(y.from, firstValue))] as const],
        ),
        {
          symbol: cross,
          symbolSize: 8 * zoom,
          itemStyle: { color: 'transparent', borderColor: colours.mute, borderWidth: 1.3 },
        },
      ),
      scatter(oil('film'), {
        ...oilLook,
        itemStyle: { color: 'transparent', borderColor: colours.ink, borderWidth: 1.4 },
      }),
      scatter(oil('wet'), { ...oilLook, itemStyle: { color: colours.ink } }),
      passageLine(spec, colours, x.to),
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

function band(
  forecast: readonly ChartBandPoint[],
  low: 'low80' | 'low95',
  high: 'high80' | 'high95',
  fill: string,
): CustomSeriesOption {
  const edge = [
    ...forecast.map((each) => [each.day, each[high]]),
    ...forecast.toReversed().map((each) => [each.day, each[low]]),
  ];
  return {
    type: 'custom',
    silent: true,
    clip: true,
    tooltip: { show: false },
    data: forecast.length < 2 ? [] : [[forecast[0]?.day ?? 0, forecast[0]?.median ?? 0]],
    renderItem: (_, api) => ({
      type: 'polygon',
      shape: { points: edge.map((pair) => api.coord(pair)) },
      style: { fill },
    }),
  };
}

function marksOf(spec: ChartSpec, layout: ChartLayout, zoom: number, colours: ChartColours) {
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

function passageLine(spec: ChartSpec, colours: ChartColours, to: number): LineSeriesOption {
  const { passage } = spec;
  const ends = passage ? [passage.earliest, Math.min(to, passage.latest ?? to)] : [];
  return {
    type: 'line',
    silent: true,
    z: 9,
    data: ends.map((day) => [day, passage?.limit ?? 0]),
    symbol: 'rect',
    symbolSize: [3, 10],
    itemStyle: { color: colours.act },
    lineStyle: { color: colours.act, width: 3 },
  };
}
