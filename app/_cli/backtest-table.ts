import type { ForecastScores } from '@/lib/analysis/backtest/score-forecasts';

export interface NamedScores {
  readonly name: string;
  readonly scores: ForecastScores;
}

interface Column {
  readonly heading: string;
  readonly of: (scores: ForecastScores) => number | null;
  readonly decimals: number;
}

/** The figures that are scored, in the order of the table. */
export const columns: readonly Column[] = [
  { heading: '80% coverage, flagged', of: (s) => s.coverage80, decimals: 3 },
  { heading: '90% coverage, flagged', of: (s) => s.coverage90, decimals: 3 },
  { heading: '80% width, days', of: (s) => s.width80, decimals: 0 },
  { heading: 'false alarms per 1,000 years', of: (s) => s.falseAlarmsPer1000Years, decimals: 1 },
  { heading: 'stable years', of: (s) => s.stableYears, decimals: 0 },
  { heading: 'crossings', of: (s) => s.crossings, decimals: 0 },
  { heading: 'flagged before', of: (s) => s.flaggedBefore, decimals: 3 },
  { heading: 'flagged 90 days ahead', of: (s) => s.flagged90DaysAhead, decimals: 3 },
  { heading: 'error 1 reading before, days', of: (s) => s.medianAbsoluteError[0]!, decimals: 0 },
  { heading: '2 before', of: (s) => s.medianAbsoluteError[1]!, decimals: 0 },
  { heading: '3 before', of: (s) => s.medianAbsoluteError[2]!, decimals: 0 },
  { heading: 'prognostic horizon, days', of: (s) => s.prognosticHorizon, decimals: 0 },
  { heading: 'alpha-lambda', of: (s) => s.alphaLambda, decimals: 3 },
  { heading: 'sound asked again', of: (s) => s.soundAskedAgain, decimals: 4 },
  { heading: 'sound rejected', of: (s) => s.soundRejected, decimals: 4 },
];

const shown = (value: number | null, decimals: number) =>
  value === null ? 'none' : value.toFixed(decimals);

/** One line a figure, one column a fleet, in Markdown. */
export function backtestTable(
  rows: readonly NamedScores[],
  priorFrom: string,
  shownColumns = columns,
): string {
  const lines = [
    `| Prior: ${priorFrom} | ${rows.map(({ name }) => name).join(' | ')} |`,
    `|---|${rows.map(() => '---:').join('|')}|`,
    ...shownColumns.map(
      ({ heading, of, decimals }) =>
        `| ${heading} | ${rows.map(({ scores }) => shown(of(scores), decimals)).join(' | ')} |`,
    ),
  ];
  return `${lines.join('\n')}\n`;
}

/** The table with what its lines mean, as a page; written by the command, never by hand. */
export const backtestPage = (
  table: string,
  signals: string,
  fleetsEach: number,
): string => `# Backtest of the wear forecast

Written by \`npm run backtest -- --out FOLDER\`; do not edit. Each unit is replayed as it was known on
the day of each visit, from ${signals}; only the prior may know more, as the table says. A lettered
column is ${fleetsEach} fleets of 300 units, each learnt from by itself and scored together. All fleets
are invented, with known truth: wear shapes, noise and errors are assumptions, not fleet data.

${table}
Flagged: wear score at least 0.18 from four visits on. Coverage and width: forecasts at flagged visits
before a crossing that is known, reached in service or not. False alarms: flags going up on stable
segments. Flagged before, 90 days ahead, errors and horizon: crossings of the wear limit reached while
the unit was still read, by units that do not fail all at once, with at least four visits before. Error:
median absolute error of the forecast's median; beyond 10 years counts as 10 years. Prognostic horizon:
median days from which on every forecast stays within 90 days (constant band). Alpha-lambda: forecasts
half way from first flag to crossing within 20% of the time then left (cone). Asked again: |z| > 3 at
the time; rejected: held in error by the whole segment.

![Share that met the limit against probability forecast](calibration.svg)

![Share of crossings already flagged against days left](lead.svg)
`;

/** A forecast that knows the errors rejects none: those lines are left out. */
export const informedTable = (rows: readonly NamedScores[], priorFrom: string): string =>
  backtestTable(
    rows,
    priorFrom,
    columns.filter(({ heading }) => !heading.startsWith('sound')),
  );

/** What could be known at best, beside what the library says; written by the command too. */
export const informedPage = (table: string): string => `# What is in the readings at all

Written by \`npm run backtest -- --informed --out FOLDER\`; do not edit. Beside the library stands a
forecast that no fleet can have: it knows every law and constant by which the fleet was invented, the
errors that people make and how often included, and lacks only the fate of the unit before it. Bayes'
rule over thousands of ways to wear drawn from those laws is the best that any method can make of the
readings. Its alarm is set to no more false alarms than the library gave on the same fleets. What it
misses is not in the readings, and where the library does no worse nothing is left to be gained. Small
differences are chance: the ways are drawn, and so are the fleets.

${table}`;

/** Flags do not hang on dates: only what is said of dates. */
export const datesTable = (rows: readonly NamedScores[], priorFrom: string): string =>
  backtestTable(
    rows,
    priorFrom,
    columns.filter(({ heading }) => !/flagged (before|90)|alarms|stable|sound/.test(heading)),
  );

/** The dates as they are and recalibrated; written by the command too. */
export const recalibratedPage = (table: string): string => `# Dates recalibrated

Written by \`npm run backtest -- --learn folds --recalibrated --out FOLDER\`; do not edit. Each fleet twice: with its
dates as the library gives them, and with dates recalibrated by what the other two thirds of the units
showed of theirs (\`learnRecalibration\` in \`lib/analysis/backtest/recalibration.ts\`: Kaplan-Meier of the
forecast probabilities at which crossings came, from 30 crossings on, shrunk by crossings /
(crossings + 20)). Wanted: an 80% interval that covers 0.78 to 0.88, a 90% interval at least 0.87, and
errors no greater.

${table}`;

/** The same figures as CSV, one row a fleet, unrounded. */
export function backtestCsv(rows: readonly NamedScores[], priorFrom: string): string {
  const quoted = (text: string) => `"${text.replaceAll('"', '""')}"`;
  const lines = [
    ['fleet', 'prior', ...columns.map(({ heading }) => heading)].map(quoted).join(','),
    ...rows.map(({ name, scores }) =>
      [quoted(name), quoted(priorFrom), ...columns.map(({ of }) => of(scores) ?? '')].join(','),
    ),
  ];
  return `${lines.join('\n')}\n`;
}
