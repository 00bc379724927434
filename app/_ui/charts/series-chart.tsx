import { useId } from 'react';
import { ChartDrawing } from '@/app/_ui/charts/chart-drawing';
import { ChartEnhancer } from '@/app/_ui/charts/chart-enhancer';
import { ChartKey } from '@/app/_ui/charts/chart-key';
import { narrowSize, wideSize } from '@/app/_ui/charts/chart-layout';
import type { ChartSpec } from '@/app/_ui/charts/chart-spec';
import { ChartTable } from '@/app/_ui/charts/chart-table';
import { EmptyState } from '@/app/_ui/empty-state';
import styles from './chart.module.css';

export interface SeriesChartProps {
  readonly spec: ChartSpec;
  readonly height?: number;
  readonly csvHref?: string;
}

/**
 * A chart with its key, table and CSV. It is drawn for a wide and a narrow place and the style sheet
 * shows the one that fits, so that text keeps its size and nothing shifts.
 */
export function SeriesChart({ spec, height = 200, csvHref }: SeriesChartProps) {
  const id = useId();
  return (
    <figure className={styles.figure}>
      {spec.points.length === 0 ? (
        <>
          <figcaption>
            <h2>{spec.title}</h2>
          </figcaption>
          <EmptyState>Never read. Read it.</EmptyState>
        </>
      ) : (
        <>
          <ChartEnhancer spec={spec} height={height} csvHref={csvHref}>
            <div className={styles.wide}>
              <ChartDrawing spec={spec} size={wideSize(height)} id={`${id}w`} />
            </div>
            <div className={styles.narrow}>
              <ChartDrawing spec={spec} size={narrowSize(height)} id={`${id}n`} />
            </div>
          </ChartEnhancer>
          <ChartKey spec={spec} />
          <ChartTable spec={spec} />
        </>
      )}
    </figure>
  );
}
