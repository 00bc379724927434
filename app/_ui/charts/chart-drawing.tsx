import { ChartAxes } from '@/app/_ui/charts/chart-axes';
import { type ChartSize, layOut } from '@/app/_ui/charts/chart-layout';
import { bandPath, linePath, medianPath, partAtEvents } from '@/app/_ui/charts/chart-paths';
import { EventsSign, LimitSign, PassageSign, PointSign } from '@/app/_ui/charts/chart-signs';
import type { ChartSpec } from '@/app/_ui/charts/chart-spec';
import styles from './chart.module.css';

interface ChartDrawingProps {
  readonly spec: ChartSpec;
  readonly size: ChartSize;
  /** Distinct in the page: title and description hang on it. */
  readonly id: string;
}

/** The chart as plain SVG: needs no script, prints, and follows forced colours. */
export function ChartDrawing({ spec, size, id }: ChartDrawingProps) {
  const layout = layOut(spec, size);
  const { x, y, plot } = layout;
  const parts = partAtEvents(spec.points, spec.events);
  const [newest, before] = parts.at(-1)?.toReversed() ?? [];
  const isFalling = newest && before && before.value > newest.value;
  return (
    <svg
      className={styles.drawing}
      viewBox={`0 0 ${size.width} ${size.height}`}
      width={size.width}
      height={size.height}
      role="img"
      aria-labelledby={`${id}-title ${id}-desc`}
    >
      <title id={`${id}-title`}>{spec.title}</title>
      <desc id={`${id}-desc`}>{spec.description}</desc>
      <ChartAxes layout={layout} />
      <svg
        x={plot.left}
        y={plot.top}
        width={plot.right - plot.left}
        height={plot.bottom - plot.top}
        viewBox={`${plot.left} ${plot.top} ${plot.right - plot.left} ${plot.bottom - plot.top}`}
        aria-hidden="true"
      >
        <path
          className={styles.band95}
          d={bandPath(
            spec.forecast,
            (each) => each.low95,
            (each) => each.high95,
            x,
            y,
          )}
        />
        <path
          className={styles.band80}
          d={bandPath(
            spec.forecast,
            (each) => each.low80,
            (each) => each.high80,
            x,
            y,
          )}
        />
        <path className={styles.median} d={medianPath(spec.forecast, x, y)} />
      </svg>
      <EventsSign layout={layout} />
      {spec.limits.map((limit) => (
        <LimitSign key={limit.name} limit={limit} decimals={spec.decimals} layout={layout} />
      ))}
      {spec.passage && <PassageSign passage={spec.passage} layout={layout} />}
      <path className={styles.second} d={linePath(parts, (each) => each.second, x, y)} />
      <path className={styles.main} d={linePath(parts, (each) => each.value, x, y)} />
      {spec.points.map((point) => (
        <PointSign key={`${point.day} ${point.value}`} point={point} layout={layout} />
      ))}
      {newest && (
        <text
          className={styles.strong}
          x={x.at(newest.day) - 9}
          y={y.at(newest.value) + (isFalling ? 19 : -9)}
          textAnchor="end"
        >
          {newest.value.toFixed(spec.decimals)}
        </text>
      )}
    </svg>
  );
}
