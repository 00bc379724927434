import type { CauseScores } from '@/lib/analysis/backtest/score-causes';
import type { ForecastScores } from '@/lib/analysis/backtest/score-forecasts';
import { columns } from './backtest-table';

/** A figure is as wanted from `least` to `most`, both included. */
interface Wanted {
  readonly least?: number;
  readonly most?: number;
}

/** What is wanted of a figure, on the fleet that the method was designed on and on any other. */
const wanted: Readonly<Record<string, { readonly given: Wanted; readonly others?: Wanted }>> = {
  '80% coverage, flagged': { given: { least: 0.78, most: 0.88 }, others: { least: 0.75 } },
  '90% coverage, flagged': { given: { least: 0.87 } },
  'false alarms per 1,000 years': { given: { most: 10 } },
  'flagged before': { given: { least: 0.97 } },
  'flagged 90 days ahead': { given: { least: 0.93 }, others: { least: 0.78 } },
  'error 1 reading before, days': { given: { most: 50 } },
  '2 before': { given: { most: 95 } },
  '3 before': { given: { most: 135 } },
  'sound rejected': { given: { most: 0.005 }, others: { most: 0.005 } },
  'cause, balanced accuracy': { given: { least: 0.9 } },
  'slipping belts told': { given: { least: 0.65 } },
};

/** The figures of a fleet by their headings in the backtest's table. */
export type Figures = ReadonlyMap<string, number | null>;

export const figuresOf = (scores: ForecastScores): Figures =>
  new Map(columns.map(({ heading, of }) => [heading, of(scores)]));

/** Of the probable causes said, under the headings of this table. */
export const causeFiguresOf = ({ balancedAccuracy, recall }: CauseScores): Figures =>
  new Map([
    ['cause, balanced accuracy', balancedAccuracy],
    ['slipping belts told', recall['slipping belt']],
  ]);

const isAsWanted = (value: number | null, { least, most }: Wanted): boolean =>
  value !== null &&
  (least === undefined || value >= least) &&
  (most === undefined || value <= most);

function inWords({ least, most }: Wanted): string {
  if (least === undefined) return `at most ${most}`;
  return most === undefined ? `at least ${least}` : `${least} to ${most}`;
}

/**
 * What was achieved beside what is wanted, in Markdown: the fleet that the method was designed on, and
 * from the least to the greatest figure of the others. A figure that falls short says so.
 */
export function achievedTable(given: Figures, others: readonly Figures[]): string {
  const lines = Object.entries(wanted).map(([heading, bounds]) => {
    const decimals = columns.find((column) => column.heading === heading)?.decimals ?? 3;
    const shown = (value: number | null | undefined) => value?.toFixed(decimals) ?? 'none';
    const marked = (text: string, values: readonly (number | null)[], within: Wanted = {}) =>
      values.every((value) => isAsWanted(value, within)) ? text : `${text}, short`;
    const own = given.get(heading) ?? null;
    const scored = others.filter((figures) => figures.has(heading));
    const elsewhere = scored.map((figures) => figures.get(heading) ?? null);
    const numbers = elsewhere.filter((value) => value !== null);
    const range = `${shown(Math.min(...numbers))} to ${shown(Math.max(...numbers))}`;
    const cells = [
      heading,
      inWords(bounds.given),
      marked(shown(own), [own], bounds.given),
      bounds.others ? inWords(bounds.others) : '–',
      numbers.length === 0 ? '–' : marked(range, elsewhere, bounds.others),
    ];
    return `| ${cells.join(' | ')} |`;
  });
  return [
    `| Figure | Wanted | Given fleet | Wanted of others | ${others.length} others |`,
    '|---|---:|---:|---:|---:|',
    ...lines,
  ].join('\n');
}

const marks = [
  '<!-- achieved, written by npm run backtest: do not edit -->',
  '<!-- achieved ends -->',
];

/** The page with the table between its marks; an error where the page has none. */
export function withAchieved(page: string, table: string): string {
  const [from, to] = marks.map((mark) => page.indexOf(mark)) as [number, number];
  if (from < 0 || to < from)
    throw new Error(
      `The page lacks the lines ${marks.join(' and ')}, between which the table goes.`,
    );
  return `${page.slice(0, from)}${marks[0]}\n\n${table}\n\n${page.slice(to)}`;
}
