import type { Mark, Reason } from '@/lib/analysis/assessment';
import { isoFromDay } from '@/lib/calendar';
import {
  type DistanceUnit,
  formatDistance,
  formatPressure,
  fromKilopascals,
  type PressureUnit,
} from '@/lib/measure';

interface Rule {
  readonly mark: Mark;
  readonly measure?: NonNullable<Reason['measure']>;
  readonly asRead?: boolean;
  readonly say: (said: Said) => string;
}

/** The figures of a reason in the reader's units of measure. */
interface Said {
  readonly value: string;
  readonly limit: string;
  readonly about: string;
  readonly on: string;
}

const stop = 'Out of service';
const book = 'Book in';

/**
 * Every rule that can give a mark, worst mark first, with the sentence that states it. A sentence
 * uses the reason's own fields and nothing else, so that it can be said again in another unit.
 */
export const rules = {
  'open spell': { mark: stop, say: ({ about, on }) => `Stood down since ${on}: ${about}` },
  'do-not-drive bulletin': {
    mark: stop,
    say: ({ about }) => `Bulletin ${about} says not to drive until it is done.`,
  },
  'idle below stop': {
    mark: stop,
    measure: 'kPa',
    asRead: true,
    say: ({ value, limit, on }) => `Idle ${value} as read on ${on}, below the stop of ${limit}.`,
  },
  'lowest below stop': {
    mark: stop,
    measure: 'kPa',
    asRead: true,
    say: ({ value, limit, on }) => `Lowest ${value} as read on ${on}, below the stop of ${limit}.`,
  },
  'pedal hard': {
    mark: stop,
    asRead: true,
    say: ({ about, on }) =>
      `Pedal ${about === 'hard' ? 'hard from the start' : 'went hard by the fourth press'} on ${on}.`,
  },
  'hold loss over stop': {
    mark: stop,
    measure: 'kPa',
    asRead: true,
    say: ({ value, limit, about, on }) =>
      `Lost ${value} in ${about} on ${on}, over the stop of ${limit}.`,
  },
  'recovery over stop': {
    mark: stop,
    measure: 's',
    say: ({ value, limit, on }) => `Recovery took ${value} on ${on}, over the stop of ${limit}.`,
  },
  'line wet': { mark: stop, say: ({ on }) => `Line at the booster wet with oil on ${on}.` },
  'belt off or shredded': { mark: stop, say: ({ about, on }) => `Pump belt ${about} on ${on}.` },
  'idle below caution': {
    mark: book,
    measure: 'kPa',
    asRead: false,
    say: ({ value, limit, on }) =>
      `Idle ${value} at sea level on ${on}, below the limit of ${limit}.`,
  },
  'lowest below caution': {
    mark: book,
    measure: 'kPa',
    asRead: false,
    say: ({ value, limit, on }) =>
      `Lowest ${value} at sea level on ${on}, below the limit of ${limit}.`,
  },
  'hold loss over caution': {
    mark: book,
    measure: 'kPa',
    asRead: true,
    say: ({ value, limit, about, on }) =>
      `Lost ${value} in ${about} on ${on}, over the limit of ${limit}.`,
  },
  'recovery over caution': {
    mark: book,
    measure: 's',
    say: ({ value, limit, on }) => `Recovery took ${value} on ${on}, over the limit of ${limit}.`,
  },
  'recovery over baseline': {
    mark: book,
    measure: 's',
    say: ({ value, limit, on }) =>
      `Recovery took ${value} on ${on}; its own baseline allows ${limit}.`,
  },
  'film twice': {
    mark: book,
    say: ({ on }) => `Oil film in the line at two visits running, last on ${on}.`,
  },
  'wear score': {
    mark: book,
    measure: 'probability',
    asRead: false,
    say: ({ value, limit }) =>
      `May meet the wear limit within a year: wear score ${value}, booked from ${limit}.`,
  },
  'belt worn': { mark: book, say: ({ about, on }) => `Pump belt ${about} on ${on}.` },
  'belt due': { mark: book, measure: 'km', say: ({ limit, on }) => `Belt due ${on}, at ${limit}.` },
  'bulletin due': { mark: book, say: ({ about, on }) => `Bulletin ${about} due ${on}.` },
  'never read': { mark: 'Unread', say: () => 'No sound reading on record.' },
  'reading overdue': {
    mark: 'Unread',
    measure: 'days',
    say: ({ value, limit }) => `Last sound reading ${value} ago; ${limit} are allowed.`,
  },
  'newest reading set aside': {
    mark: 'Unread',
    say: ({ about }) => `The newest reading cannot be true: ${about}.`,
  },
  'line not seen': { mark: 'Unread', say: ({ on }) => `The line was not seen on ${on}.` },
  'good readings owed': {
    mark: 'Proving',
    say: ({ about, on }) => `Back since ${on}; good readings still owed: ${about}.`,
  },
  'wear score rising': {
    mark: 'Drifting',
    measure: 'probability',
    asRead: false,
    say: ({ value, limit }) =>
      `May meet the wear limit within a year: wear score ${value}, watched from ${limit}.`,
  },
  'two below baseline': {
    mark: 'Drifting',
    measure: 'kPa',
    asRead: false,
    say: ({ value, limit }) =>
      `Two visits running at least ${limit} below its own start: ${value}.`,
  },
  'film once': { mark: 'Drifting', say: ({ on }) => `Oil film in the line on ${on}.` },
  'unconfirmed reading': {
    mark: 'Holding',
    measure: 'kPa',
    asRead: false,
    say: ({ value, limit }) =>
      `Idle ${value} at sea level where ${limit} was expected: read again the same day.`,
  },
  'inside limits': {
    mark: 'Holding',
    say: () => 'Every measurement is inside its limit, and no limit is near.',
  },
} as const satisfies Record<string, Rule>;

export type RuleName = keyof typeof rules;
export const ruleNames = Object.keys(rules) as readonly RuleName[];

/** What a rule found; the rule itself adds mark, measure and sentence. */
export interface Finding {
  readonly rule: RuleName;
  readonly value?: number;
  readonly limit?: number;
  readonly about?: string;
  readonly on?: number;
  readonly readingIds?: readonly string[];
}

export interface UnitsOfMeasure {
  readonly pressure: PressureUnit;
  readonly distance: DistanceUnit;
}
export const psiAndMiles: UnitsOfMeasure = { pressure: 'psi', distance: 'mi' };

const figure = (value: number, measure: Reason['measure'], units: UnitsOfMeasure): string => {
  switch (measure) {
    case 'kPa':
      return formatPressure(value, units.pressure);
    case 'km':
      return formatDistance(value, units.distance);
    case 's':
      return `${value.toFixed(1)} s`;
    case 'days':
      return `${Math.round(value)} days`;
    case 'probability':
      return value.toFixed(2);
    default:
      return String(value);
  }
};

/** Value and limit as text; two that differ never look the same. */
function figures(
  value: number | undefined,
  limit: number | undefined,
  measure: Reason['measure'],
  units: UnitsOfMeasure,
): readonly [string, string] {
  const said = [value, limit].map((one) =>
    one === undefined ? '' : figure(one, measure, units),
  ) as [string, string];
  if (said[0] !== said[1] || value === limit || measure !== 'kPa') return said;
  const unit = units.pressure;
  return [value, limit].map((one) => `${fromKilopascals(one ?? 0, unit).toFixed(3)} ${unit}`) as [
    string,
    string,
  ];
}

/** The sentence of a reason, in any units of measure: the stored text again, or the same in inHg. */
export function reasonText(
  { rule, value, limit, about, on }: Omit<Finding, 'rule'> & { readonly rule: string },
  units: UnitsOfMeasure = psiAndMiles,
): string {
  const known: Rule | undefined = Object.hasOwn(rules, rule) ? rules[rule as RuleName] : undefined;
  if (!known) return rule;
  const [saidValue, saidLimit] = figures(value, limit, known.measure, units);
  return known.say({
    value: saidValue,
    limit: saidLimit,
    about: about ?? '',
    on: on === undefined ? '' : isoFromDay(on),
  });
}

/** Findings as reasons, worst mark first, in the order of the rules. */
export function reasonsOf(
  findings: readonly Finding[],
  units: UnitsOfMeasure = psiAndMiles,
): readonly Reason[] {
  return findings
    .toSorted((a, b) => ruleNames.indexOf(a.rule) - ruleNames.indexOf(b.rule))
    .map((finding) => {
      const { mark, measure, asRead }: Rule = rules[finding.rule];
      return {
        mark,
        ...finding,
        readingIds: finding.readingIds ?? [],
        text: reasonText(finding, units),
        ...(measure !== undefined && { measure }),
        ...(asRead !== undefined && { asRead }),
      };
    });
}
