import { mondayOf } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import {
  type Lineage,
  lineageFor,
  lineagesOf,
  type PartNeed,
  type PartStock,
} from '@/lib/planning/part-stock';
import {
  type CountDistribution,
  countQuantile,
  noneForCertain,
  poissonBinomial,
  sumOfCounts,
} from '@/lib/planning/poisson-binomial';

export interface NeedByWeek {
  readonly monday: DayNumber;
  /** Pieces needed up to the end of this week: mean, and the ends of the 80% interval. */
  readonly expected: number;
  readonly low80: number;
  readonly high80: number;
}

export interface PartToOrder {
  /** The newest revision: what an order would bring. */
  readonly part: PartStock;
  /** Pieces in stock of this and of the revisions it replaced. */
  readonly inStock: number;
  readonly needs: readonly NeedByWeek[];
  /** Pieces to order so that the stock lasts through the plan with the confidence asked for. */
  readonly toOrder: number;
  /** Monday of the first week for which the stock may not do; null when it lasts. */
  readonly shortFrom: DayNumber | null;
  /** Monday of the week in which to order; before `asOf` the parts will be late. */
  readonly orderBy: DayNumber | null;
  readonly isLate: boolean;
}

export interface PartsReport {
  /** By order-by week, soonest first, then those with enough in stock. */
  readonly parts: readonly PartToOrder[];
  /** Needs whose part is not on the list. */
  readonly notListed: readonly PartNeed[];
}

interface RankedNeed {
  readonly monday: DayNumber;
  readonly probability: number;
  /** Place in the lineage of the oldest revision that will do. */
  readonly from: number;
}

interface Shortage {
  readonly pieces: number;
  readonly since: DayNumber | null;
}

interface NeededSoFar {
  readonly monday: DayNumber;
  readonly expected: number;
  readonly count: CountDistribution;
}

/** What is needed up to the end of each week that asks for a piece; the needs in order of week. */
function neededByWeek(needs: readonly RankedNeed[]): NeededSoFar[] {
  const weeks = new Map<DayNumber, number[]>();
  for (const { monday, probability } of needs) {
    const own = weeks.get(monday);
    if (own) own.push(probability);
    else weeks.set(monday, [probability]);
  }
  let count = noneForCertain;
  let expected = 0;
  return [...weeks].map(([monday, probabilities]) => {
    count = sumOfCounts(count, poissonBinomial(probabilities));
    expected += probabilities.reduce((sum, one) => sum + one, 0);
    return { monday, expected, count };
  });
}

/** Needs that only revisions from `from` on can meet, against the stock of those. */
function shortageFrom(
  lineage: Lineage,
  needs: readonly RankedNeed[],
  from: number,
  confidence: number,
): Shortage {
  const stock = lineage.slice(from).reduce((sum, { inStock }) => sum + inStock, 0);
  const weeks = neededByWeek(needs.filter((need) => need.from >= from)).map(
    ({ monday, count }) => ({ monday, wanted: countQuantile(count, confidence) }),
  );
  return {
    pieces: Math.max(0, (weeks.at(-1)?.wanted ?? 0) - stock),
    since: weeks.find(({ wanted }) => wanted > stock)?.monday ?? null,
  };
}

/**
 * Parts by the week in which to order them. What is needed by each week is the sum of placed work
 * (certain) and of forecast work (each with its probability): a Poisson-binomial count. A newer
 * revision does wherever an older would, not the other way round, so each revision and its
 * successors must hold what asks for it or newer. The order goes out a lead time before the first
 * week for which the stock fails with more than 1 − `confidence`.
 */
export function partsToOrder(
  needs: readonly PartNeed[],
  stock: readonly PartStock[],
  asOf: DayNumber,
  confidence = 0.9,
): PartsReport {
  const lineages = lineagesOf(stock);
  const ranked = new Map<Lineage, RankedNeed[]>(lineages.map((lineage) => [lineage, []]));
  const notListed: PartNeed[] = [];
  for (const need of needs) {
    const found = lineageFor(lineages, need);
    if (!found) {
      notListed.push(need);
      continue;
    }
    const { probability } = need;
    ranked
      .get(found.lineage)!
      .push({ monday: mondayOf(need.neededOn), probability, from: found.from });
  }
  const parts = [...ranked].map(([lineage, wanted]): PartToOrder => {
    const inOrder = wanted.sort((a, b) => a.monday - b.monday);
    const shortages = lineage.map((_, from) => shortageFrom(lineage, inOrder, from, confidence));
    const days = shortages.map(({ since }) => since).filter((day) => day !== null);
    const part = lineage.at(-1)!;
    const shortFrom = days.length === 0 ? null : Math.min(...days);
    const orderBy = shortFrom === null ? null : mondayOf(shortFrom - part.leadTimeDays);
    return {
      part,
      inStock: lineage.reduce((sum, { inStock }) => sum + inStock, 0),
      needs: neededByWeek(inOrder).map(({ monday, expected, count }) => ({
        monday,
        expected,
        low80: countQuantile(count, 0.1),
        high80: countQuantile(count, 0.9),
      })),
      toOrder: Math.max(0, ...shortages.map(({ pieces }) => pieces)),
      shortFrom,
      orderBy,
      isLate: orderBy !== null && orderBy < mondayOf(asOf),
    };
  });
  const dueOf = ({ orderBy }: PartToOrder): number => orderBy ?? Number.MAX_SAFE_INTEGER;
  return { parts: parts.sort((a, b) => dueOf(a) - dueOf(b)), notListed };
}
