import { type ChartLayout, laneBaseline, widthOfText } from '@/app/_ui/charts/chart-layout';
import type { ChartLimit, ChartPassage, ChartPoint } from '@/app/_ui/charts/chart-spec';
import { LineMark } from '@/app/_ui/charts/line-mark';
import styles from './chart.module.css';

export function EventsSign({ layout: { events, plot } }: { layout: ChartLayout }) {
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
export function LimitSign({ limit, decimals, layout: { y, plot } }: LimitProps) {
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

export function PassageSign({
  passage,
  layout: { x, y, plot },
}: {
  passage: ChartPassage;
  layout: ChartLayout;
}) {
  const from = Math.max(x.at(passage.earliest), x.at(x.from));
  const to = passage.latest === null ? x.at(x.to) : Math.min(x.at(passage.latest), x.at(x.to));
  if (from > to) return null;
  const at = y.at(passage.limit) + 9;
  const isOpen = passage.latest === null || passage.latest > x.to;
  // Below its own line, right of the newest reading, whose figure stands to the left.
  const hasRoom = from + widthOfText(passage.words) <= plot.right;
  return (
    <g className={styles.passage}>
      <path
        d={`M${from.toFixed(1)} ${at - 5}v10M${from.toFixed(1)} ${at}H${to.toFixed(1)}${isOpen ? 'l-6 -5m6 5l-6 5' : 'm0 -5v10'}`}
      />
      <text
        className={styles.strong}
        x={hasRoom ? from : plot.right}
        y={at + 19}
        textAnchor={hasRoom ? 'start' : 'end'}
      >
        {passage.words}
      </text>
    </g>
  );
}

export function PointSign({
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
