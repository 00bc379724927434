import {
  type ChartLayout,
  type ChartSize,
  laneBaseline,
  layOut,
} from '@/app/_ui/charts/chart-layout';
import { bandPath, linePath, medianPath, partAtEvents } from '@/app/_ui/charts/chart-paths';
import type { ChartLimit, ChartPassage, ChartPoint, ChartSpec } from '@/app/_ui/charts/chart-spec';
import { LineMark } from '@/app/_ui/charts/line-mark';
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
      <Axes layout={layout} />
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
      <Events layout={layout} />
      {spec.limits.map((limit) => (
        <Limit key={limit.name} limit={limit} decimals={spec.decimals} layout={layout} />
      ))}
      {spec.passage && <Passage passage={spec.passage} layout={layout} />}
      <path className={styles.second} d={linePath(parts, (each) => each.second, x, y)} />
      <path className={styles.main} d={linePath(parts, (each) => each.value, x, y)} />
      {spec.points.map((point) => (
        <Point key={`${point.day} ${point.value}`} point={point} layout={layout} />
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

function Axes({ layout: { x, y, plot, valueTicks, dateTicks, dateRow } }: { layout: ChartLayout }) {
  return (
    <g>
      {valueTicks.map((tick) => (
        <g key={tick}>
          <path className={styles.grid} d={`M${plot.left} ${y.at(tick)}H${plot.right}`} />
          <text x={plot.left - 7} y={y.at(tick) + 4.5} textAnchor="end">
            {tick}
          </text>
        </g>
      ))}
      {dateTicks.map(({ day, label }) => {
        const isNearEdge = x.at(day) > plot.right - 28;
        return (
          <g key={day}>
            <path
              className={styles.tick}
              d={`M${x.at(day).toFixed(1)} ${plot.bottom}v${label ? 6 : 3}`}
            />
            {label && (
              <text
                x={isNearEdge ? plot.right : x.at(day)}
                y={dateRow}
                textAnchor={isNearEdge ? 'end' : 'middle'}
              >
                {label}
              </text>
            )}
          </g>
        );
      })}
    </g>
  );
}

function Events({ layout: { events, plot } }: { layout: ChartLayout }) {
  return events.map(({ day, name, x, lane, anchor }) => (
    <g key={`${day} ${name}`}>
      <path
        className={name === 'today' ? styles.today : styles.event}
        d={`M${x.toFixed(1)} ${laneBaseline(lane) - 10}V${plot.bottom}`}
      />
      <text x={anchor === 'end' ? x - 4 : x + 4} y={laneBaseline(lane)} textAnchor={anchor}>
        {name}
      </text>
    </g>
  ));
}

interface LimitProps {
  readonly limit: ChartLimit;
  readonly decimals: number;
  readonly layout: ChartLayout;
}

/** Its name stands on the side where no reading should be. */
function Limit({ limit, decimals, layout: { y, plot } }: LimitProps) {
  const at = y.at(limit.value);
  return (
    <g>
      <path
        className={limit.isStop ? styles.stop : styles.limit}
        d={`M${plot.left} ${at}H${plot.right}`}
      />
      <text
        className={styles.strong}
        x={plot.left + 5}
        y={limit.stay === 'above' ? at + 15 : at - 6}
      >
        {limit.name} {limit.value.toFixed(decimals)}
      </text>
    </g>
  );
}

function Passage({ passage, layout: { x, y } }: { passage: ChartPassage; layout: ChartLayout }) {
  const from = Math.max(x.at(passage.earliest), x.at(x.from));
  const to = passage.latest === null ? x.at(x.to) : Math.min(x.at(passage.latest), x.at(x.to));
  if (from > to) return null;
  const at = y.at(passage.limit) + 9;
  const isOpen = passage.latest === null || passage.latest > x.to;
  return (
    <g className={styles.passage}>
      <path
        d={`M${from.toFixed(1)} ${at - 5}v10M${from.toFixed(1)} ${at}H${to.toFixed(1)}${isOpen ? 'l-6 -5m6 5l-6 5' : 'm0 -5v10'}`}
      />
      <text className={styles.strong} x={from - 6} y={at + 5} textAnchor="end">
        {passage.words}
      </text>
    </g>
  );
}

function Point({
  point,
  layout: { x, y, plot, oilRow },
}: {
  point: ChartPoint;
  layout: ChartLayout;
}) {
  const at = { x: x.at(point.day), y: y.at(point.value) };
  const first =
    point.firstValue === null
      ? null
      : Math.min(plot.bottom, Math.max(plot.top, y.at(point.firstValue)));
  return (
    <g>
      {first !== null && (
        <path
          className={styles.amended}
          d={`M${(at.x - 4).toFixed(1)} ${(first - 4).toFixed(1)}l8 8m0 -8l-8 8M${at.x.toFixed(1)} ${first.toFixed(1)}V${at.y.toFixed(1)}`}
        />
      )}
      {point.second !== null && (
        <circle className={styles.secondPoint} cx={at.x} cy={y.at(point.second)} r={2.2} />
      )}
      <circle
        className={point.unconfirmed ? styles.hollow : styles.solid}
        cx={at.x}
        cy={at.y}
        r={4.2}
      />
      {point.line && oilRow !== null && <LineMark line={point.line} x={at.x} y={oilRow} />}
    </g>
  );
}
