import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  achievedTable,
  causeFiguresOf,
  type Figures,
  figuresOf,
  withAchieved,
} from '@/app/_cli/backtest-achieved';
import { judge, priorsOf } from '@/app/_cli/judge-as-known';
import {
  type KnownFleet,
  knownCauses,
  knownSegments,
  readKnownFleet,
} from '@/app/_cli/read-backtest-fleet';
import { scoreCauses } from '@/lib/analysis/backtest/score-causes';
import { scoreForecasts } from '@/lib/analysis/backtest/score-forecasts';

const readText = (path: string) => readFileSync(path, 'utf8');
const rowOf = (table: string, heading: string) =>
  table
    .split('\n')
    .find((line) => line.startsWith(`| ${heading} |`))!
    .split(' | ')
    .slice(1)
    .map((cell) => cell.replace(/ \|$/, ''));

describe('what was achieved beside what is wanted', () => {
  const empty = figuresOf(scoreForecasts([]));
  const figures = (values: Readonly<Record<string, number>>): Figures =>
    new Map([...empty, ...Object.entries(values)]);

  it('says of each figure whether it falls short, at the edges too', () => {
    const coverage = '80% coverage, flagged';
    const of = (given: number, ...others: number[]) =>
      rowOf(
        achievedTable(
          figures({ [coverage]: given }),
          others.map((value) => figures({ [coverage]: value })),
        ),
        coverage,
      );
    expect(of(0.78, 0.9, 0.75)).toEqual([
      '0.78 to 0.88',
      '0.780',
      'at least 0.75',
      '0.750 to 0.900',
    ]);
    expect(of(0.779, 0.8, 0.749)[1]).toBe('0.779, short');
    expect(of(0.881, 0.8)[1]).toBe('0.881, short');
    expect(of(0.88, 0.8, 0.749)[3]).toBe('0.749 to 0.800, short');
  });

  it('rounds for show alone, and takes what is missing for short', () => {
    const table = achievedTable(figures({ '3 before': 135.4, 'sound rejected': 0.0043 }), []);
    expect(rowOf(table, '3 before')).toEqual(['at most 135', '135, short', '–', '–']);
    expect(rowOf(table, 'sound rejected')[1]).toBe('0.0043');
    expect(rowOf(table, 'flagged before')[1]).toBe('none, short');
  });

  it('stands in a page between its marks, in place of what stood there', () => {
    const page = readText('docs/method.md');
    const once = withAchieved(page, '| one |');
    expect(withAchieved(withAchieved(page, '| two |'), '| one |')).toBe(once);
    expect(once).toContain('\n| one |\n');
    expect(once).toContain('# Method');
    expect(once).toContain('## How this page is kept true');
    expect(() => withAchieved('# Another page', '| one |')).toThrow('The page lacks the lines');
  });
});

// The truth of the fleet is known because a simulator that is not part of this project invented it.
describe('the given fleet, each third judged by what the others teach', () => {
  const kept: Record<string, string>[] = parse(readText('docs/backtest/figures.csv'), {
    columns: true,
  });
  const keptFigures = kept.map(
    (row): Figures =>
      new Map(
        [...figuresOf(scoreForecasts([])).keys()].map((heading) => [
          heading,
          row[heading] === '' ? null : Number(row[heading]),
        ]),
      ),
  );

  const folder = 'tests/published/figures/fleet';
  let fleet: KnownFleet;
  beforeAll(async () => {
    fleet = await readKnownFleet({
      units: `${folder}/units.csv`,
      fitments: `${folder}/fitments.csv`,
      readings: `${folder}/readings.csv`,
      truth: `${folder}/truth`,
    });
  });

  it('has its causes told as well as is wanted, at the last visit before a repair', () => {
    const visits = knownCauses(fleet);
    const { balancedAccuracy, recall } = scoreCauses(visits);
    expect(visits.length).toBeGreaterThan(200);
    expect(balancedAccuracy).toBeGreaterThanOrEqual(0.9);
    expect(recall['slipping belt']).toBeGreaterThanOrEqual(0.65);
    // No check valve of this fleet was repaired.
    expect(recall['check valve']).toBeNull();
  });

  it('still gives the figures that the pages show', () => {
    const segments = knownSegments(fleet);
    const figures = figuresOf(scoreForecasts(judge(segments, priorsOf(segments, 'folds'))));
    for (const [heading, figure] of keptFigures[0]!)
      expect(figures.get(heading), heading).toBeCloseTo(figure!, 3);
  });

  it('has the same figures on the page of the method as in the file of figures', () => {
    const [ofGiven, ...others] = keptFigures;
    const ofCauses = causeFiguresOf(scoreCauses(knownCauses(fleet)));
    const page = readText('docs/method.md');
    const table = achievedTable(new Map([...ofGiven!, ...ofCauses]), others);
    expect(withAchieved(page, table)).toBe(page);
  });
});
