import type { Between } from '@/lib/bulletins/rule';

/** What a condition says: in a rule, and of a unit's own fact that meets it or does not. */
export interface ConditionWords {
  readonly asRule: string;
  readonly whenTrue: string;
  readonly whenFalse: string;
}

const scales = {
  order: { orUp: 'or later', orDown: 'or earlier', under: 'before', over: 'after' },
  amount: { orUp: 'or more', orDown: 'or less', under: 'under', over: 'over' },
} as const;

/**
 * An interval whose ends are in and are written as people know them; dates, years, weeks and serial
 * numbers go by order.
 *
 * Example: months from 2018-11 on read `build date is 2018-11 or later`.
 */
export function intervalWords(
  fact: string,
  { from, to }: Between<string>,
  scale: keyof typeof scales,
): ConditionWords {
  const { orUp, orDown, under, over } = scales[scale];
  const told = (whenTrue: string, whenFalse: string) => ({
    asRule: `${fact} ${whenTrue}`,
    whenTrue,
    whenFalse,
  });
  if (from === undefined) return told(`is ${to} ${orDown}`, `is ${over} ${to}`);
  if (to === undefined) return told(`is ${from} ${orUp}`, `is ${under} ${from}`);
  if (from === to) return { ...told(`is ${from}`, `is not ${from}`), whenTrue: 'as asked' };
  return told(`is within ${from} to ${to}`, `is outside ${from} to ${to}`);
}

const months = (count: number): string => `${count} ${count === 1 ? 'month' : 'months'}`;

/**
 * An age in whole months, of a unit by its build date.
 *
 * Example: `age is 24 months or more`, and `build date 2019-03 makes it 24 months old or more`.
 */
export function ageWords({ from, to }: Between<number>): ConditionWords {
  if (from === undefined) {
    const [most, next] = [months(to ?? 0), months((to ?? 0) + 1)];
    return {
      asRule: `age is ${most} or less`,
      whenTrue: `makes it ${most} old or less`,
      whenFalse: `makes it ${next} old or more`,
    };
  }
  if (to === undefined) {
    return {
      asRule: `age is ${months(from)} or more`,
      whenTrue: `makes it ${months(from)} old or more`,
      whenFalse: `makes it less than ${months(from)} old`,
    };
  }
  const age = from === to ? months(to) : `${from} to ${months(to)}`;
  return {
    asRule: `age is ${age}`,
    whenTrue: `makes it ${age} old`,
    whenFalse: `does not make it ${age} old`,
  };
}
