import { linearScale } from '@/app/_ui/charts/scale';
import type { DayNumber } from '@/lib/measure';
import styles from './sparkline.module.css';

export interface SparkPoint {
  readonly day: DayNumber;
  readonly value: number;
}

export interface SparklineProps {
  readonly points: readonly SparkPoint[];
  readonly limit: number;
  /** The 80% band ahead. */
  readonly band?: readonly {
    readonly day: DayNumber;
    readonly low: number;
    readonly high: number;
  }[];
  /** Alike for every row of a table, so that rows can be compared down the column. */
  readonly days: readonly [DayNumber, DayNumber];
  readonly values: readonly [number, number];
  readonly width?: number;
  readonly height?: number;
}

/** A picture beside figures that say the same, hence hidden from assistive technology. */
export function Sparkline(props: SparklineProps) {
  const { points, limit, band = [], days, values, width = 134, height = 27 } = props;
  const x = linearScale(days, [3, width - 3]);
  const y = linearScale(values, [height - 2, 2]);
  const place = (day: number, value: number) =>
    `${x.at(day).toFixed(1)} ${Math.min(height - 1, Math.max(1, y.at(value))).toFixed(1)}`;
  const shown = points.filter(({ day }) => day >= days[0] && day <= days[1]);
  const newest = shown.at(-1);
  const edges = [
    ...band.map(({ day, high }) => place(day, high)),
    ...band.toReversed().map(({ day, low }) => place(day, low)),
  ];
  const [newestX, newestY] = newest ? place(newest.day, newest.value).split(' ') : [];
  return (
    <svg
      className={styles.spark}
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      aria-hidden="true"
    >
      {band.length > 1 && <path className={styles.band} d={`M${edges.join('L')}Z`} />}
      <path className={styles.limit} d={`M0 ${y.at(limit).toFixed(1)}H${width}`} />
      {shown.length > 1 && (
        <path
          className={styles.line}
          d={`M${shown.map(({ day, value }) => place(day, value)).join('L')}`}
        />
      )}
      {newest && <circle className={styles.newest} cx={newestX} cy={newestY} r={2.4} />}
    </svg>
  );
}
