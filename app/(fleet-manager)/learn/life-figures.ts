import { noValue } from '@/app/_ui/format';
import type { LifeGroup } from '@/lib/analysis/life';
import { type DistanceUnit, formatDistance, fromKilometres } from '@/lib/measure';

/** Distance that half of the lives outlast, from the survival curve; null while more than half last. */
const middleLife = ({ survival }: LifeGroup): number | null =>
  survival.find((row) => row.survival <= 0.5)?.time ?? null;

export const middleWords = (group: LifeGroup, unit: DistanceUnit): string => {
  const middle = middleLife(group);
  return middle === null ? 'more than half last' : formatDistance(middle, unit);
};

export function weibullWords({ weibull, trust }: LifeGroup, unit: DistanceUnit): string {
  if (!weibull) return 'too few failures';
  const { shape, intervals } = weibull;
  const life = (kilometres: number) =>
    Math.round(fromKilometres(kilometres, unit)).toLocaleString('en-US');
  const range = intervals.tenPercentLife;
  const said = `shape ${shape.toFixed(1)}; one in ten fails by ${life(range.value)} ${unit} (90%: ${life(range.lower)} to ${life(range.upper)})`;
  return trust === 'few failures' ? `${said}; few failures, weigh it lightly` : said;
}

const whyNoAge = {
  'too few failures': 'too few failures',
  'does not wear out': 'it does not wear out: run it to failure',
  'failure costs no more': 'a failure costs no more',
  'later than any would last': 'later than any would last',
} as const;

export function replacementWords({ replacement }: LifeGroup, unit: DistanceUnit): string {
  const { age, whyNone, isRecommendation } = replacement;
  if (age === null) return whyNone === null ? noValue : whyNoAge[whyNone];
  const words = formatDistance(age, unit);
  return isRecommendation ? words : `${words}, too few failures to change the rule by`;
}
