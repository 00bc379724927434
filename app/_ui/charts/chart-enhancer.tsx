'use client';

import { type ReactNode, useEffect, useRef, useState } from 'react';
import type { ChartSpec } from '@/app/_ui/charts/chart-spec';
import type { LiveChart } from '@/app/_ui/charts/live-chart';
import styles from './chart-enhancer.module.css';

interface ChartEnhancerProps {
  readonly spec: ChartSpec;
  /** Height of the drawing, as given to `wideSize` and `narrowSize`. */
  readonly height: number;
  /** The same figures as a file. */
  readonly csvHref?: string;
  /** The server's drawing: stays in place, gives the size, and is what prints. */
  readonly children: ReactNode;
}

type State = 'still' | 'loading' | 'live' | 'failed';

/** Lays the interactive chart over the drawing once someone reaches for it, and not before. */
export function ChartEnhancer({ spec, height, csvHref, children }: ChartEnhancerProps) {
  const [state, setState] = useState<State>('still');
  const host = useRef<HTMLDivElement>(null);
  const chart = useRef<LiveChart>(null);

  async function enliven() {
    if (state === 'loading' || state === 'live') return;
    setState('loading');
    try {
      const { openLiveChart } = await import('@/app/_ui/charts/live-chart');
      if (host.current === null) return;
      chart.current = openLiveChart(host.current, spec, height);
      setState('live');
    } catch (error) {
      console.error('interactive chart did not load', error);
      setState('failed');
    }
  }

  useEffect(
    () => () => {
      chart.current?.close();
      chart.current = null;
    },
    [],
  );
  useEffect(() => chart.current?.show(spec, height), [spec, height]);

  return (
    <>
      <figcaption className={styles.head}>
        <h2>{spec.title}</h2>
        <div className={`${styles.tools} no-print`}>
          {state === 'live' ? (
            <>
              <button type="button" onClick={() => chart.current?.zoom(0.5)}>
                Zoom in
              </button>
              <button type="button" onClick={() => chart.current?.zoom(2)}>
                Zoom out
              </button>
              <button type="button" onClick={() => chart.current?.zoom(null)}>
                Whole span
              </button>
            </>
          ) : (
            <button type="button" onClick={() => void enliven()}>
              {state === 'failed' ? 'Did not load. Try again' : 'Look closer'}
            </button>
          )}
          <span role="status" className="visually-hidden">
            {state === 'failed' && 'The closer look did not load. The table has the same figures.'}
          </span>
          {csvHref && (
            <a href={csvHref}>
              CSV<span className="visually-hidden"> of {spec.title}</span>
            </a>
          )}
        </div>
      </figcaption>
      {/* biome-ignore lint/a11y/noStaticElementInteractions: a shortcut; the button below does the same */}
      {/* biome-ignore lint/a11y/useKeyWithClickEvents: the button below does the same */}
      <div
        className={styles.frame}
        data-live={state === 'live' || undefined}
        onPointerEnter={({ pointerType }) => {
          if (pointerType === 'mouse') void enliven();
        }}
        onClick={() => void enliven()}
      >
        {children}
        <div ref={host} className={styles.host} aria-hidden="true" />
      </div>
    </>
  );
}
