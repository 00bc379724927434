import { useId } from 'react';
import { linearScale, roundTicks } from '@/app/_ui/charts/scale';
import type { LifeGroup } from '@/lib/analysis/life';
import { type DistanceUnit, fromKilometres } from '@/lib/measure';
import styles from './learn.module.css';

interface SurvivalChartProps {
  readonly group: LifeGroup;
  readonly name: string;
  readonly unit: DistanceUnit;
  /** Longest life of the groups compared, so that their charts share one scale. */
  readonly longest: number;
}

const width = 360;
const height = 200;
const plot = { left: 40, right: width - 14, top: 10, bottom: height - 58 };

/** Share of lives that last, as steps, with its 95% interval and the numbers still at risk. */
export function SurvivalChart({ group, name, unit, longest }: SurvivalChartProps) {
  const id = useId();
  const ticks = roundTicks(0, fromKilometres(longest, unit), 4);
  const x = linearScale([0, ticks.at(-1) ?? 1], [plot.left, plot.right]);
  const y = linearScale([0, 1], [plot.bottom, plot.top]);
  const rows = group.survival;
  const end = rows.at(-1)?.time ?? 0;
  const steps = rows.filter(({ failures }) => failures > 0);
  const at = (kilometres: number) => x.at(fromKilometres(kilometres, unit)).toFixed(1);
  const edge = (value: (row: (typeof rows)[number]) => number | null) =>
    steps.map((row) => `H${at(row.time)}V${y.at(value(row) ?? row.survival).toFixed(1)}`).join('');
  const line = `M${plot.left} ${y.at(1)}${edge(({ survival }) => survival)}H${at(end)}`;
  const upper = steps.map((row) => ({ time: row.time, value: row.upper ?? row.survival }));
  const lower = steps.map((row) => ({ time: row.time, value: row.lower ?? row.survival }));
  const back = lower
    .toReversed()
    .map(({ time, value }) => `V${y.at(value).toFixed(1)}H${at(time)}`)
    .join('');
  const band =
    steps.length === 0
      ? ''
      : `M${at(steps[0]!.time)} ${y.at(1)}${upper.map(({ time, value }) => `H${at(time)}V${y.at(value).toFixed(1)}`).join('')}H${at(end)}${back}Z`;
  const atRisk = (distance: number) =>
    rows.find(({ time }) => fromKilometres(time, unit) >= distance)?.atRisk ?? 0;
  const last = steps.at(-1);
  return (
    <svg
      className={styles.survival}
      viewBox={`0 0 ${width} ${height}`}
      role="img"
      aria-labelledby={`${id}-title ${id}-desc`}
    >
      <title id={`${id}-title`}>{`Share that lasts: ${name}`}</title>
      <desc id={`${id}-desc`}>
        {last
          ? `${group.failures} of ${group.lives} lives ended in failure; ${Math.round(100 * last.survival)}% last beyond ${Math.round(fromKilometres(last.time, unit)).toLocaleString('en-US')} ${unit}.`
          : `None of ${group.lives} lives has ended in failure.`}
      </desc>
      {[0, 0.5, 1].map((share) => (
        <g key={share}>
          <path className={styles.grid} d={`M${plot.left} ${y.at(share)}H${plot.right}`} />
          <text x={plot.left - 6} y={y.at(share) + 4.5} textAnchor="end">
            {`${100 * share}%`}
          </text>
        </g>
      ))}
      <path className={styles.band} d={band} />
      <path className={styles.line} d={line} />
      {ticks.map((tick, index) => (
        <g key={tick}>
          <path className={styles.tick} d={`M${x.at(tick)} ${plot.bottom}v5`} />
          <text
            x={x.at(tick)}
            y={plot.bottom + 18}
            textAnchor={index === ticks.length - 1 ? 'end' : 'middle'}
          >
            {tick >= 1000 ? `${tick / 1000}k` : tick}
          </text>
          <text
            x={x.at(tick)}
            y={plot.bottom + 36}
            textAnchor={index === ticks.length - 1 ? 'end' : 'middle'}
          >
            {atRisk(tick)}
          </text>
        </g>
      ))}
      <text x={plot.right} y={plot.bottom + 53} textAnchor="end">
        {`${unit} since fitted; below it, parts still at risk`}
      </text>
    </svg>
  );
}
