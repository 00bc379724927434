import type { DayNumber } from '@/lib/measure';

/**
 * What a chart shows, already in the viewer's unit of measure. One spec feeds the server's drawing,
 * the table beside it and the interactive layer, so that they cannot disagree.
 */
export interface ChartSpec {
  readonly title: string;
  /** One or two sentences that stand for the drawing. */
  readonly description: string;
  readonly unit: string;
  readonly decimals: number;
  readonly today: DayNumber;
  readonly points: readonly ChartPoint[];
  readonly mainName: string;
  /** Names the second value of each point, e.g. the vacuum as read beside its sea-level equivalent. */
  readonly secondName: string | null;
  readonly limits: readonly ChartLimit[];
  readonly forecast: readonly ChartBandPoint[];
  readonly passage: ChartPassage | null;
  readonly events: readonly ChartEvent[];
}

export interface ChartPoint {
  readonly day: DayNumber;
  readonly value: number;
  readonly second: number | null;
  /** Waits for another reading to bear it out; drawn hollow. */
  readonly unconfirmed: boolean;
  readonly line: 'film' | 'wet' | null;
  /** The value first recorded, where an amendment changed it. */
  readonly firstValue: number | null;
  readonly note: string | null;
}

export interface ChartLimit {
  readonly name: string;
  readonly value: number;
  readonly isStop: boolean;
  /** On which side of the limit a unit should stay. */
  readonly stay: 'above' | 'below';
}

export interface ChartBandPoint {
  readonly day: DayNumber;
  readonly median: number;
  readonly low80: number;
  readonly high80: number;
  readonly low95: number;
  readonly high95: number;
}

/** 80% interval of the first passage of a limit. */
export interface ChartPassage {
  readonly earliest: DayNumber;
  readonly latest: DayNumber | null;
  readonly limit: number;
  readonly words: string;
}

export interface ChartEvent {
  readonly day: DayNumber;
  readonly name: string;
  /** A new source of vacuum: the line through the readings is broken here. */
  readonly breaksLine: boolean;
}
