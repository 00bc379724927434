import type { CustomSeriesOption, LineSeriesOption, ScatterSeriesOption } from 'echarts/charts';
import type { ChartColours } from '@/app/_ui/charts/chart-colours';
import type { ChartLayout } from '@/app/_ui/charts/chart-layout';
import { partAtEvents } from '@/app/_ui/charts/chart-paths';
import type { ChartBandPoint, ChartPoint, ChartSpec } from '@/app/_ui/charts/chart-spec';

type Place = [day: number, value: number];
type LiveSeries = CustomSeriesOption | LineSeriesOption | ScatterSeriesOption;

const cross = 'path://M0 0L8 8M8 0L0 8';
const drop = 'path://M4 0C5.6 3.4 8 5 8 8A4 4 0 0 1 0 8C0 5 2.4 3.4 4 0Z';

/** Everything that stands at a day and a value, from the back to the front. */
export function liveChartSeries(
  spec: ChartSpec,
  { x, y }: ChartLayout,
  zoom: number,
  colours: ChartColours,
): LiveSeries[] {
  const { points, forecast } = spec;
  const parts = partAtEvents(points, spec.events);
  const solid = { color: colours.ink };
  const outlined = { color: colours.panel, borderColor: colours.ink, borderWidth: 2 };
  const thin = { color: 'transparent', borderColor: colours.ink, borderWidth: 1.4 };
  const placeOf = ({ day, value }: ChartPoint): Place => [day, value];
  const oil = (kind: 'film' | 'wet'): Place[] =>
    points.filter(({ line }) => line === kind).map(({ day }) => [day, y.from]);
  const amended = points.flatMap(({ day, firstValue }): Place[] =>
    firstValue === null ? [] : [[day, Math.min(y.to, Math.max(y.from, firstValue))]],
  );
  const oilLook = { symbol: drop, symbolSize: [8 * zoom, 12 * zoom], symbolOffset: [0, 13 * zoom] };
  const dotLook = { symbolSize: 9 * zoom };
  return [
    band(forecast, 'low95', 'high95', colours.band95),
    band(forecast, 'low80', 'high80', colours.band80),
    {
      ...line(forecast.map(({ day, median }) => [day, median])),
      lineStyle: { color: colours.ink, width: 2, type: [6, 4] },
    },
    ...parts.map((part) => ({
      ...line(part.flatMap(({ day, second }): Place[] => (second === null ? [] : [[day, second]]))),
      lineStyle: { color: colours.edge, width: 1.2 },
    })),
    ...parts.map((part) => ({
      ...line(part.map(placeOf)),
      lineStyle: { color: colours.ink, width: 2 },
    })),
    scatter(points.filter(({ unconfirmed }) => !unconfirmed).map(placeOf), solid, dotLook),
    scatter(points.filter(({ unconfirmed }) => unconfirmed).map(placeOf), outlined, dotLook),
    scatter(
      amended,
      { ...thin, borderColor: colours.mute },
      { symbol: cross, symbolSize: 8 * zoom },
    ),
    scatter(oil('film'), thin, oilLook),
    scatter(oil('wet'), solid, oilLook),
    passageLine(spec, colours, x.to),
  ];
}

const line = (data: Place[]): LineSeriesOption => ({
  type: 'line',
  data,
  symbol: 'none',
  silent: true,
});

const scatter = (
  data: Place[],
  itemStyle: ScatterSeriesOption['itemStyle'],
  look: Pick<ScatterSeriesOption, 'symbol' | 'symbolSize' | 'symbolOffset'>,
): ScatterSeriesOption => ({
  type: 'scatter',
  data,
  ...look,
  itemStyle: { opacity: 1, ...itemStyle },
});

function band(
  forecast: readonly ChartBandPoint[],
  low: 'low80' | 'low95',
  high: 'high80' | 'high95',
  fill: string,
): CustomSeriesOption {
  const edge: Place[] = [
    ...forecast.map((each): Place => [each.day, each[high]]),
    ...forecast.toReversed().map((each): Place => [each.day, each[low]]),
  ];
  return {
    type: 'custom',
    silent: true,
    clip: true,
    tooltip: { show: false },
    data: edge.slice(0, forecast.length < 2 ? 0 : 1),
    renderItem: (_, api) => ({
      type: 'polygon',
      shape: { points: edge.map((place) => api.coord(place)) },
      style: { fill },
    }),
  };
}

function passageLine({ passage }: ChartSpec, colours: ChartColours, to: number): LineSeriesOption {
  const ends = passage ? [passage.earliest, Math.min(to, passage.latest ?? to)] : [];
  return {
    ...line(ends.map((day) => [day, passage?.limit ?? 0])),
    z: 9,
    symbol: 'rect',
    symbolSize: [3, 10],
    itemStyle: { color: colours.act },
    lineStyle: { color: colours.act, width: 3 },
  };
}
