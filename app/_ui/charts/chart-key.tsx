import type { ReactNode } from 'react';
import type { ChartSpec } from '@/app/_ui/charts/chart-spec';
import { LineMark } from '@/app/_ui/charts/line-mark';
import styles from './chart.module.css';

interface Entry {
  readonly text: string;
  readonly isShown: boolean;
  readonly swatch: ReactNode;
}

/** Names only the signs that the drawing holds. */
export function ChartKey({ spec }: { readonly spec: ChartSpec }) {
  const has = (holds: (point: ChartSpec['points'][number]) => boolean) => spec.points.some(holds);
  const entries: readonly Entry[] = [
    {
      text: spec.mainName,
      isShown: spec.secondName !== null,
      swatch: (
        <>
          <path className={styles.main} d="M0 8H24" />
          <circle className={styles.solid} cx="12" cy="8" r="4" />
        </>
      ),
    },
    {
      text: spec.secondName ?? '',
      isShown: spec.secondName !== null,
      swatch: (
        <>
          <path className={styles.second} d="M0 8H24" />
          <circle className={styles.secondPoint} cx="12" cy="8" r="2.2" />
        </>
      ),
    },
    {
      text: 'not yet confirmed',
      isShown: has(({ unconfirmed }) => unconfirmed),
      swatch: <circle className={styles.hollow} cx="12" cy="8" r="4.2" />,
    },
    {
      text: 'first recorded, amended since',
      isShown: has(({ firstValue }) => firstValue !== null),
      swatch: <path className={styles.amended} d="M8 4l8 8m0 -8l-8 8" />,
    },
    {
      text: 'oil film in the line',
      isShown: has(({ line }) => line === 'film'),
      swatch: <LineMark line="film" x={12} y={9} />,
    },
    {
      text: 'line wet with oil',
      isShown: has(({ line }) => line === 'wet'),
      swatch: <LineMark line="wet" x={12} y={9} />,
    },
    {
      text: 'middle of the forecast',
      isShown: spec.forecast.length > 1,
      swatch: <path className={styles.median} d="M0 8H24" />,
    },
    {
      text: '8 in 10',
      isShown: spec.forecast.length > 1,
      swatch: <rect className={styles.band80} width="24" height="16" />,
    },
    {
      text: '95 in 100',
      isShown: spec.forecast.length > 1,
      swatch: <rect className={styles.band95} width="24" height="16" />,
    },
  ];
  return (
    <ul className={styles.key}>
      {entries
        .filter(({ isShown }) => isShown)
        .map(({ text, swatch }) => (
          <li key={text}>
            <svg width="24" height="16" viewBox="0 0 24 16" aria-hidden="true">
              {swatch}
            </svg>
            {text}
          </li>
        ))}
    </ul>
  );
}
