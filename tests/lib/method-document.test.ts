import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import * as assessUnit from '@/lib/analysis/assess-unit';
import { marks } from '@/lib/analysis/assessment';
import * as belt from '@/lib/analysis/belt';
import * as diagnose from '@/lib/analysis/diagnose';
import * as fleetPrior from '@/lib/analysis/fleet-prior';
import * as gaugeOffsets from '@/lib/analysis/gauge-offsets';
import * as holdLoss from '@/lib/analysis/hold-loss';
import * as lifeWeibull from '@/lib/analysis/life-weibull';
import * as limits from '@/lib/analysis/limits';
import * as normalise from '@/lib/analysis/normalise';
import * as odometer from '@/lib/analysis/odometer';
import * as plausibility from '@/lib/analysis/plausibility';
import { ruleNames, rules } from '@/lib/analysis/rules';
import * as segmentWear from '@/lib/analysis/segment-wear';
import * as trace from '@/lib/analysis/trace';
import * as wear from '@/lib/analysis/wear';
import * as belowLimit from '@/lib/analysis/wear/below-limit';
import * as takeVisit from '@/lib/analysis/wear/take-visit';
import * as wearCurves from '@/lib/analysis/wear/wear-curves';
import * as wearTrack from '@/lib/analysis/wear/wear-track';
import * as atmosphere from '@/lib/atmosphere';
import * as appliesToUnit from '@/lib/bulletins/applies-to-unit';
import * as buildDate from '@/lib/bulletins/build-date';
import * as calendar from '@/lib/calendar';
import * as measure from '@/lib/measure';
import * as crossingByWeek from '@/lib/planning/crossing-by-week';
import * as plan from '@/lib/planning/plan';
import * as planGrid from '@/lib/planning/plan-grid';
import * as poissonBinomial from '@/lib/planning/poisson-binomial';
import * as proposePlan from '@/lib/planning/propose-plan';
import * as statistics from '@/lib/statistics';
import * as invented from '../support/a-unit';

const text = readFileSync(new URL('../../docs/method.md', import.meta.url), 'utf8');

/** Everything that a worked line may call; lines of the form `name = expression` add to it. */
const scope: Record<string, unknown> = {
  ...statistics,
  ...{ ...calendar, ...measure, ...atmosphere, ...limits, ...fleetPrior, ...invented },
  ...{
    ...assessUnit,
    ...normalise,
    ...plausibility,
    ...gaugeOffsets,
    ...holdLoss,
    ...trace,
    ...diagnose,
  },
  ...{ ...wear, ...wearCurves, ...wearTrack, ...takeVisit, ...belowLimit, ...segmentWear },
  ...{ ...belt, ...odometer, ...lifeWeibull, ...appliesToUnit, ...buildDate },
  ...{ ...plan, ...planGrid, ...proposePlan, ...crossingByWeek, ...poissonBinomial },
  inPsi: (vacuum: number) => measure.fromKilopascals(vacuum, 'psi'),
};

function evaluate(expression: string): unknown {
  const names = Object.keys(scope);
  return new Function(...names, `return (${expression});`)(...Object.values(scope));
}

const workedLines = [...text.matchAll(/^```worked\n(.*?)^```$/gms)].flatMap(([, block]) =>
  block!.trim().split('\n'),
);

/** The value as it would be written with the decimals of what is written. */
function expectWritten(actual: unknown, written: string): void {
  if (/^-?\d+(\.\d+)?$/.test(written)) {
    const halfUnit = 0.5 * 10 ** -(written.split('.')[1]?.length ?? 0);
    expect(typeof actual).toBe('number');
    expect(Math.abs(Number(actual) - Number(written))).toBeLessThanOrEqual(halfUnit * (1 + 1e-9));
  } else if (written.startsWith('[')) {
    const parts = written.slice(1, -1).split(', ');
    expect(actual).toHaveLength(parts.length);
    for (const [k, part] of parts.entries()) expectWritten((actual as unknown[])[k], part);
  } else {
    expect(actual).toEqual(JSON.parse(written));
  }
}

describe('worked lines', () => {
  // In order of the page: later lines use the names of earlier ones.
  it.each(workedLines)('%s', (line) => {
    const [call, value] = line.split(' → ');
    if (value !== undefined) return expectWritten(evaluate(call!), value);
    const [, name, expression] = /^(\w+) = (.+)$/.exec(line) ?? [];
    expect(name, 'neither `call → value` nor `name = expression`').toBeDefined();
    scope[name!] = evaluate(expression!);
  });

  it('are in every section that has figures', () => {
    const sections = text.split(/^## /m).slice(1);
    const without = sections.filter((section) => !section.includes('```worked'));
    expect(without.map((section) => section.split('\n')[0])).toEqual([
      'What it cannot do',
      'What it achieves',
      'How this page is kept true',
    ]);
  });
});

/** Cells of the rows of the first table under a heading. */
function tableUnder(heading: string): string[][] {
  const section = text.split(`\n## ${heading}\n`)[1]!.split('\n## ')[0]!;
  const lines = section.split('\n').filter((line) => line.startsWith('|'));
  return lines.slice(2).map((line) =>
    line
      .split('|')
      .slice(1, -1)
      .map((cell) => cell.trim()),
  );
}

const codeIn = (cell: string) => [...cell.matchAll(/`([^`]+)`/g)].map(([, code]) => code!);

describe('limits table', () => {
  const { version: _, ...defaults } = limits.defaultLimits;
  const rows = tableUnder('Limits');
  const keyOf = (cell: string) => codeIn(cell)[0] as keyof typeof defaults;

  it('has every default once', () => {
    expect(rows.map(([limit]) => keyOf(limit!)).sort()).toEqual(Object.keys(defaults).sort());
  });

  const valueIn = (value: number, unit: string): number => {
    if (unit === 'psi' || unit === 'inHg') return measure.fromKilopascals(value, unit);
    if (unit === 'mi') return measure.fromKilometres(value, 'mi');
    return value;
  };

  it.each(rows)('%s: %s', (limit, values) => {
    for (const written of values!.split(/, (?=\d)/)) {
      const [figure, unit] = written.split(' ');
      expectWritten(valueIn(defaults[keyOf(limit!)], unit!), figure!.replaceAll(',', ''));
    }
  });

  it('gives every vacuum in the three units that gauges show', () => {
    const vacuums = rows.filter(([, values]) => values!.includes('kPa'));
    expect(vacuums).toHaveLength(11);
    for (const [, values] of vacuums) expect(values).toMatch(/^\S+ kPa, \S+ psi, \S+ inHg$/);
  });

  it('judges stops on what is there and wear at sea level', () => {
    for (const [limit, , judgedOn] of rows) {
      if (/Sle$/.test(keyOf(limit!))) expect(judgedOn).toBe('SLE');
      if (/AsRead$/.test(keyOf(limit!))) expect(judgedOn).toBe('as read');
    }
  });
});

describe('marks table', () => {
  it('lists the marks worst first, each with the rules that give it', () => {
    const rows = tableUnder('Marks');
    expect(rows.map(([mark]) => mark)).toEqual([...marks]);
    for (const [mark, named] of rows) {
      const giving = ruleNames.filter((name) => rules[name].mark === mark);
      expect(codeIn(named!).sort(), mark).toEqual([...giving].sort());
    }
  });
});
