import { type IdleChartInput, idleChartSpec } from '@/app/_ui/charts/idle-chart-spec';
import { SeriesChart } from '@/app/_ui/charts/series-chart';

interface IdleChartProps extends IdleChartInput {
  readonly csvHref?: string;
}

export function IdleChart({ csvHref, ...input }: IdleChartProps) {
  return <SeriesChart spec={idleChartSpec(input)} height={300} csvHref={csvHref} />;
}
