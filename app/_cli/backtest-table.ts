import type { ForecastScores } from '@/lib/analysis/wear/score-forecasts';

export interface NamedScores {
  readonly name: string;
  readonly scores: ForecastScores;
}

interface Column {
  readonly heading: string;
  readonly of: (scores: ForecastScores) => number | null;
  readonly decimals: number;
}

const columns: readonly Column[] = [
  { heading: '80% coverage, flagged', of: (s) => s.coverage80, decimals: 3 },
  { heading: '90% coverage, flagged', of: (s) => s.coverage90, decimals: 3 },
  { heading: '80% width, days', of: (s) => s.width80, decimals: 0 },
  { heading: 'false alarms per 1,000 years', of: (s) => s.falseAlarmsPer1000Years, decimals: 1 },
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
export function backtestTable(rows: readonly NamedScores[], priorFrom: string): string {
  const lines = [
    `| Prior: ${priorFrom} | ${rows.map(({ name }) => name).join(' | ')} |`,
    `|---|${rows.map(() => '---:').join('|')}|`,
    ...columns.map(
      ({ heading, of, decimals }) =>
        `| ${heading} | ${rows.map(({ scores }) => shown(of(scores), decimals)).join(' | ')} |`,
    ),
  ];
  return `${lines.join('\n')}\n`;
}

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
