import { fitLife, type LifeTrust, type WeibullLife } from '@/lib/analysis/life-weibull';
import type { Fitment, Part } from '@/lib/analysis/reading';
import type { Kilometres } from '@/lib/measure';
import { type AgeReplacement, ageReplacement } from '@/lib/statistics/age-replacement';
import { type KaplanMeierRow, kaplanMeier } from '@/lib/statistics/kaplan-meier';
import { logRank } from '@/lib/statistics/log-rank';

export interface PartHistory {
  readonly fitment: Fitment;
  readonly engine: string | null;
  readonly shed: string | null;
  /** Newest sound odometer of the unit, for a part that is still on it. */
  readonly odometerNow: Kilometres | null;
}

export const lifeGroupings = ['all', 'revision', 'engine', 'shed'] as const;
export type LifeGrouping = (typeof lifeGroupings)[number];

export interface LifeGroup {
  readonly by: LifeGrouping;
  /** `unknown` gathers the parts whose revision, engine or shed is not on record. */
  readonly name: string;
  readonly lives: number;
  readonly failures: number;
  readonly survival: readonly KaplanMeierRow[];
  readonly trust: LifeTrust;
  readonly weibull: WeibullLife | null;
  readonly replacement: PlannedReplacement;
}

/** Age at which replacing the part as planned costs least a kilometre. */
export interface PlannedReplacement {
  readonly age: Kilometres | null;
  readonly whyNone: 'too few failures' | AgeReplacement['whyNone'];
  /** From 20 failures the age may be offered as a change of the fleet's rule. */
  readonly isRecommendation: boolean;
}

export interface LifeComparison {
  readonly by: LifeGrouping;
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  readonly p: number;
}

export interface PartLives {
  readonly part: Part;
  readonly groups: readonly LifeGroup[];
  /** Log-rank test of each grouping with two groups and a failure. */
  readonly comparisons: readonly LifeComparison[];
  /** Fitments without both odometers, or with a distance that is not above zero. */
  readonly withoutDistance: number;
}

interface Life {
  readonly distance: Kilometres;
  readonly hasFailed: boolean;
  readonly history: PartHistory;
}

const failureReasons: readonly Fitment['whyRemoved'][] = ['failed', 'worn', 'repaired'];

/**
 * Lives of one part over the fleet, in kilometres from fitting to failure; a part removed for another
 * reason, or still on its unit, counts as having lasted at least so far. Kaplan-Meier by all, part
 * revision, engine and shed; log-rank between the groups; Weibull and the replacement age of least cost
 * for a failure that costs `costRatio` times a planned change.
 * Source: Kaplan and Meier 1958; Barlow and Hunter 1960 (age replacement).
 * Thin data: Weibull hidden below 5 failures, trust as in `fitLife`; no replacement age with its reason.
 *
 * @example partLives('belt', [], 5) has no lives, a hidden Weibull and no age: `too few failures`
 */
export function partLives(
  part: Part,
  histories: readonly PartHistory[],
  costRatio: number,
): PartLives {
  const ofPart = histories.filter(({ fitment }) => fitment.part === part);
  const lives = ofPart.flatMap((history) => lifeOf(history) ?? []);
  const grouped = lifeGroupings.map((by) => ({ by, groups: groupLives(lives, by) }));
  return {
    part,
    groups: grouped.flatMap(({ by, groups }) =>
      [...groups].map(([name, members]) => describeGroup(by, name, members, costRatio)),
    ),
    comparisons: grouped.flatMap(({ by, groups }) => compare(by, [...groups.values()]) ?? []),
    withoutDistance: ofPart.length - lives.length,
  };
}

function lifeOf(history: PartHistory): Life | null {
  const { fitment, odometerNow } = history;
  const isRemoved = fitment.removedOn !== null || fitment.whyRemoved !== null;
  const end = isRemoved ? fitment.removedOdometer : odometerNow;
  if (fitment.fittedOdometer === null || end === null || end <= fitment.fittedOdometer) return null;
  return {
    distance: end - fitment.fittedOdometer,
    hasFailed: isRemoved && failureReasons.includes(fitment.whyRemoved),
    history,
  };
}

function groupLives(lives: readonly Life[], by: LifeGrouping): Map<string, Life[]> {
  const groups = new Map<string, Life[]>(by === 'all' ? [['all', []]] : []);
  for (const life of lives) {
    const { fitment, engine, shed } = life.history;
    const name = { all: 'all', revision: fitment.revision, engine, shed }[by] ?? 'unknown';
    const group = groups.get(name);
    if (group) group.push(life);
    else groups.set(name, [life]);
  }
  return groups;
}

const timesOf = (lives: readonly Life[]) => lives.map(({ distance }) => distance);
const failedOf = (lives: readonly Life[]) => lives.map(({ hasFailed }) => hasFailed);

function describeGroup(
  by: LifeGrouping,
  name: string,
  lives: readonly Life[],
  costRatio: number,
): LifeGroup {
  const failures = lives.filter(({ hasFailed }) => hasFailed).length;
  const { trust, weibull } = fitLife(timesOf(lives), failedOf(lives));
  return {
    by,
    name,
    lives: lives.length,
    failures,
    survival: kaplanMeier(timesOf(lives), failedOf(lives)),
    trust,
    weibull,
    replacement: plannedReplacement(weibull, trust, costRatio),
  };
}

function plannedReplacement(
  weibull: WeibullLife | null,
  trust: LifeTrust,
  costRatio: number,
): PlannedReplacement {
  if (!weibull) return { age: null, whyNone: 'too few failures', isRecommendation: false };
  const { shape, scale } = weibull;
  const { age, whyNone } = ageReplacement({ shape, scale, plannedCost: 1, failureCost: costRatio });
  return {
    age,
    whyNone,
    isRecommendation: age !== null && trust === 'enough to recommend',
  };
}

function compare(by: LifeGrouping, groups: readonly Life[][]): LifeComparison | null {
  const test = logRank(groups.map((lives) => ({ times: timesOf(lives), failed: failedOf(lives) })));
  if (test.whyNone !== null) return null;
  const { chiSquare, degreesOfFreedom, p } = test;
  return { by, chiSquare, degreesOfFreedom, p };
}
