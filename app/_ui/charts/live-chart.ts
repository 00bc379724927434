import { CustomChart, LineChart, ScatterChart } from 'echarts/charts';
import {
  DataZoomInsideComponent,
  GridComponent,
  MarkLineComponent,
  TooltipComponent,
} from 'echarts/components';
import { init, use } from 'echarts/core';
import { SVGRenderer } from 'echarts/renderers';
import { chartColoursOf } from '@/app/_ui/charts/chart-colours';
import { chartDays, narrowSize, wideSize } from '@/app/_ui/charts/chart-layout';
import type { ChartSpec } from '@/app/_ui/charts/chart-spec';
import { liveChartOption } from '@/app/_ui/charts/live-chart-option';

use([
  CustomChart,
  DataZoomInsideComponent,
  GridComponent,
  LineChart,
  MarkLineComponent,
  ScatterChart,
  SVGRenderer,
  TooltipComponent,
]);

export interface LiveChart {
  readonly show: (spec: ChartSpec, height: number) => void;
  /** Widens or narrows the days shown about their middle by a factor; null shows them all. */
  readonly zoom: (factor: number | null) => void;
  readonly close: () => void;
}

/** The server's drawing that the style sheet shows at the present width. */
function shownDrawing(frame: Element | null): DOMRect | null {
  const drawings = [...(frame?.querySelectorAll('svg[role="img"]') ?? [])];
  return (
    drawings.map((each) => each.getBoundingClientRect()).find(({ width }) => width > 0) ?? null
  );
}

/** Covers the drawing that stands beside `host` and follows it when its size changes. */
export function openLiveChart(host: HTMLElement, spec: ChartSpec, height: number): LiveChart {
  let shown = { spec, height };
  const frame = host.parentElement;
  const chart = init(host, null, { renderer: 'svg', width: 1, height: 1, useDirtyRect: false });

  const draw = () => {
    const box = shownDrawing(frame);
    if (box === null) return;
    const sizes = [wideSize(shown.height), narrowSize(shown.height)];
    const aspect = box.width / box.height;
    const [size] = sizes.toSorted(
      (a, b) => Math.abs(a.width / a.height - aspect) - Math.abs(b.width / b.height - aspect),
    );
    if (size === undefined) return;
    chart.resize({ width: box.width, height: box.height });
    chart.setOption(
      liveChartOption(shown.spec, size, box.width / size.width, chartColoursOf(host)),
      true,
    );
  };

  draw();
  const watch = new ResizeObserver(draw);
  if (frame) watch.observe(frame);

  return {
    show(nextSpec, nextHeight) {
      shown = { spec: nextSpec, height: nextHeight };
      draw();
    },
    zoom(factor) {
      const [first, last] = chartDays(shown.spec);
      const { startValue = first, endValue = last } = zoomState(chart.getOption());
      const middle = (startValue + endValue) / 2;
      const half = factor === null ? last - first : ((endValue - startValue) / 2) * factor;
      chart.dispatchAction({
        type: 'dataZoom',
        startValue: Math.max(first, middle - half),
        endValue: Math.min(last, middle + half),
      });
    },
    close() {
      watch.disconnect();
      chart.dispose();
    },
  };
}

function zoomState(option: unknown): { startValue?: number; endValue?: number } {
  const zooms = (option as { dataZoom?: { startValue?: number; endValue?: number }[] }).dataZoom;
  return zooms?.[0] ?? {};
}
