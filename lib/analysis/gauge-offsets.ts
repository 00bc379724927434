import { seriesOf, type Visit } from '@/lib/analysis/visits';
import { seaLevelPressure } from '@/lib/atmosphere';
import { type Kilopascals, toKilopascals } from '@/lib/measure';
import { median, medianAbsoluteDeviation } from '@/lib/statistics/median';

/** One reading beside the line between the two around it, each taken with another gauge. */
export interface GaugeComparison {
  readonly gauge: string;
  readonly others: readonly string[];
  /** Reading less the line, at the air of the reading. */
  readonly difference: Kilopascals;
}

export interface GaugeOffset {
  readonly gauge: string;
  readonly comparisons: number;
  /** The gauges that it was compared with. */
  readonly others: readonly string[];
  /** How much more vacuum it shows than they; null below eight comparisons. */
  readonly offset: Kilopascals | null;
  /** 95% interval. */
  readonly interval: readonly [low: Kilopascals, high: Kilopascals] | null;
  /** Clearly off, by as much as matters: have it checked. */
  readonly isDoubtful: boolean;
}

const longestGapDays = 400;
const fewestComparisons = 8;
const leastThatMatters = toKilopascals(0.25, 'psi');
/** Comparisons of one unit share readings: in turn about, their median varies as that of so many fewer. */
const apartShare = 3 / 4;
/** Errors of the median that an offset must exceed: some dozens of gauges are looked at together. */
const clearErrors = 3;

/** The comparisons that the visits of one segment hold; a reading that names no gauge is passed over. */
export function gaugeComparisons(visits: readonly Visit[]): readonly GaugeComparison[] {
  const series = seriesOf(visits, ({ idleSle, gauge }) => (gauge === null ? null : idleSle));
  const comparisons: GaugeComparison[] = [];
  for (let k = 1; k < series.length - 1; k++) {
    const [before, here, after] = [series[k - 1]!, series[k]!, series[k + 1]!];
    const { gauge, ambient } = here.reading;
    const others = [before, after].flatMap(({ reading }) => reading.gauge ?? []);
    const gap = after.day - before.day;
    if (gauge === null || others.includes(gauge) || gap > longestGapDays) continue;
    const line = before.value + ((after.value - before.value) * (here.day - before.day)) / gap;
    const difference = ((here.value - line) * ambient) / seaLevelPressure;
    comparisons.push({ gauge, others: [...new Set(others)], difference });
  }
  return comparisons;
}

/**
 * How much each gauge shows above the others that read the same units before and after it: the median
 * of its comparisons, kPa as read, with a 95% interval of 1.96 times 1.2533 σ/√(¾n), σ by the median
 * absolute deviation. The clearest first; what leans on a gauge in doubt no longer counts for the rest,
 * where enough is left without it. Wear and slips of single readings move a median little; an offset
 * that all gauges share is not seen.
 * Source: standard error of the median of normal values, Kendall and Stuart, The Advanced Theory of
 * Statistics, vol. 1; the limits of doubt, 0.25 psi and three errors, are own choices.
 * Thin data: below eight comparisons the offset is null.
 *
 * @example gaugeOffsets([]) is []
 */
export function gaugeOffsets(comparisons: readonly GaugeComparison[]): readonly GaugeOffset[] {
  const byGauge = new Map<string, GaugeComparison[]>();
  for (const one of comparisons) {
    const own = byGauge.get(one.gauge);
    if (own) own.push(one);
    else byGauge.set(one.gauge, [one]);
  }
  const doubtful = new Map<string, GaugeOffset>();
  for (;;) {
    const rest = [...byGauge].flatMap(([gauge, own]) => {
      if (doubtful.has(gauge)) return [];
      const apart = own.filter(({ others }) => !others.some((other) => doubtful.has(other)));
      return offsetOf(gauge, apart.length < fewestComparisons ? own : apart);
    });
    const clearest = rest
      .filter(({ isDoubtful }) => isDoubtful)
      .toSorted((a, b) => clarity(b) - clarity(a))[0];
    if (!clearest) {
      return [...doubtful.values(), ...rest].sort((a, b) => (a.gauge < b.gauge ? -1 : 1));
    }
    doubtful.set(clearest.gauge, clearest);
  }
}

const clarity = ({ offset, interval }: GaugeOffset): number =>
  offset === null || !interval ? 0 : Math.abs(offset) / (interval[1] - interval[0]);

function offsetOf(gauge: string, comparisons: readonly GaugeComparison[]): GaugeOffset {
  const differences = comparisons.map(({ difference }) => difference);
  const others = [...new Set(comparisons.flatMap((one) => one.others))].sort();
  const counted = { gauge, comparisons: comparisons.length, others };
  const offset = median(differences);
  const spread = medianAbsoluteDeviation(differences);
  if (offset === null || spread === null || comparisons.length < fewestComparisons) {
    return { ...counted, offset: null, interval: null, isDoubtful: false };
  }
  const error = (1.2533 * spread) / Math.sqrt(apartShare * comparisons.length);
  return {
    ...counted,
    offset,
    interval: [offset - 1.96 * error, offset + 1.96 * error],
    isDoubtful: Math.abs(offset) >= Math.max(leastThatMatters, clearErrors * error),
  };
}
