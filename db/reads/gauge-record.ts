import type { Actor } from '@/lib/access';
import { visitsBySegment } from '@/lib/analysis/assess-fleet';
import { type GaugeOffset, gaugeComparisons, gaugeOffsets } from '@/lib/analysis/gauge-offsets';
import type { DayNumber } from '@/lib/measure';
import type { Db, Tx } from '../client';
import { gauge } from '../schema';
import { sampledHistories } from './sampled-histories';

/** Some dozens of comparisons of a gauge tell. */
const sample = { most: 2000, atATime: 50 };
/** Gauges drift and are mended: only the newest readings speak of them. */
const daysBack = 3 * 365;

export interface GaugeOnRecord extends GaugeOffset {
  readonly label: string;
  readonly calibrationDueOn: string | null;
}

export interface GaugeRecord {
  readonly units: number;
  readonly unitsSampled: number;
  readonly gauges: readonly GaugeOnRecord[];
}

/** The fleet's gauges in use, each beside those that read the same units in the last three years. */
export async function gaugeRecord(
  db: Db | Tx,
  actor: Actor,
  today: DayNumber,
): Promise<GaugeRecord> {
  const { histories, ...counts } = await sampledHistories(db, actor, sample);
  const comparisons = [];
  for await (const { readings, ...history } of histories) {
    const recent = readings.filter(({ readOn }) => readOn > today - daysBack);
    const visits = visitsBySegment({ ...history, readings: recent, asOf: today });
    comparisons.push(...visits.flatMap(gaugeComparisons));
  }
  const rows = new Map((await db.select().from(gauge)).map((row) => [row.id, row]));
  const labelOf = (id: string) => rows.get(id)?.label ?? id;
  return {
    ...counts,
    gauges: gaugeOffsets(comparisons).flatMap((offset) => {
      const row = rows.get(offset.gauge);
      if (!row || row.retiredOn !== null) return [];
      const { label, calibrationDueOn } = row;
      return { ...offset, others: offset.others.map(labelOf), label, calibrationDueOn };
    }),
  };
}
