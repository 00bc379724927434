import type { ChartLayout } from '@/app/_ui/charts/chart-layout';
import styles from './chart.module.css';

/** Round values across, quarters along. */
export function ChartAxes({
  layout: { x, y, plot, valueTicks, dateTicks, dateRow },
}: {
  layout: ChartLayout;
}) {
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
        const isNearEnd = x.at(day) > plot.right - 28;
        const isNearStart = x.at(day) < 28;
        return (
          <g key={day}>
            <path
              className={styles.tick}
              d={`M${x.at(day).toFixed(1)} ${plot.bottom}v${label ? 6 : 3}`}
            />
            {label && (
              <text
                x={isNearEnd ? plot.right : isNearStart ? 0 : x.at(day)}
                y={dateRow}
                textAnchor={isNearEnd ? 'end' : isNearStart ? 'start' : 'middle'}
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
