import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { describe, expect, it } from 'vitest';
import { ChartDrawing } from '@/app/_ui/charts/chart-drawing';
import { layOut, narrowSize, wideSize } from '@/app/_ui/charts/chart-layout';
import { ChartTable } from '@/app/_ui/charts/chart-table';
import { type IdleChartInput, idleChartSpec } from '@/app/_ui/charts/idle-chart-spec';
import { noteLines } from '@/app/_ui/charts/live-chart-note';
import { measureChartSpec } from '@/app/_ui/charts/measure-chart-spec';
import { quarterTicks } from '@/app/_ui/charts/quarter-ticks';
import { linearScale, roundTicks } from '@/app/_ui/charts/scale';
import { Sparkline } from '@/app/_ui/sparkline';
import { dayFromIso, isoFromDay } from '@/lib/calendar';
import { toKilopascals } from '@/lib/measure';

const day = (iso: string): number => dayFromIso(iso) ?? Number.NaN;
const asOf = day('2025-11-25');
const psi = (value: number) => toKilopascals(value, 'psi');

const point = (iso: string, sle: number, more = {}) => ({
  day: day(iso),
  sle: psi(sle),
  asRead: psi(sle * 0.9),
  line: 'dry' as const,
  unconfirmed: false,
  firstSle: null,
  ...more,
});

const input: IdleChartInput = {
  unit: '0417',
  pressureUnit: 'psi',
  asOf,
  points: [
    point('2024-11-20', 12.8),
    point('2025-02-20', 12.6, { firstSle: psi(42) }),
    point('2025-05-20', 12.9),
    point('2025-08-20', 12.1, { line: 'film' }),
    point('2025-11-20', 11.4, { line: 'wet', unconfirmed: true }),
  ],
  wearLimit: psi(10),
  stopLimit: psi(7),
  forecast: [0, 28, 56, 84].map((ahead) => ({
    day: asOf + ahead,
    median: psi(11.4 - ahead / 60),
    low80: psi(11.1 - ahead / 40),
    high80: psi(11.7 - ahead / 90),
    low95: psi(10.9 - ahead / 35),
    high95: psi(11.9 - ahead / 120),
  })),
  passage: {
    probabilityWithin1Year: 0.9,
    probabilityBeforeNextReading: 0.5,
    probabilityWithinHorizon: 0.5,
    earliest95: asOf + 40,
    earliest90: asOf + 44,
    earliest80: asOf + 50,
    median: asOf + 84,
    latest80: asOf + 130,
    latest90: asOf + 140,
    latest95: asOf + 150,
    whyNone: null,
  },
  fitments: [
    {
      part: 'pump',
      revision: 'B',
      fittedOn: day('2025-04-01'),
      fittedOdometer: null,
      removedOn: null,
      removedOdometer: null,
      whyRemoved: null,
    },
  ],
};

const draw = (spec: ReturnType<typeof idleChartSpec>, size = wideSize(300)) =>
  renderToStaticMarkup(createElement(ChartDrawing, { spec, size, id: 'c' }));
const count = (markup: string, pattern: RegExp) => [...markup.matchAll(pattern)].length;

describe('scales', () => {
  it('map the ends and the middle', () => {
    const { at } = linearScale([10, 20], [300, 100]);
    expect([at(10), at(15), at(20)]).toEqual([300, 200, 100]);
  });

  it('do not divide by an empty stretch', () => {
    expect(linearScale([5, 5], [0, 100]).at(5)).toBe(0);
    expect(roundTicks(4, 4, 5).every(Number.isFinite)).toBe(true);
  });

  it('choose round steps that cover the values', () => {
    expect(roundTicks(6.7, 13.3, 6)).toEqual([6, 8, 10, 12, 14]);
    expect(roundTicks(0, 0.31, 4)).toEqual([0, 0.1, 0.2, 0.3, 0.4]);
  });

  it('put quarters on their first days and name them by year and quarter', () => {
    const ticks = quarterTicks(day('2024-12-15'), day('2025-12-31'), 9);
    expect(ticks.map((tick) => [isoFromDay(tick.day), tick.label])).toEqual([
      ['2025-01-01', '2025-Q1'],
      ['2025-04-01', '2025-Q2'],
      ['2025-07-01', '2025-Q3'],
      ['2025-10-01', '2025-Q4'],
    ]);
  });
});

describe('the idle chart', () => {
  const spec = idleChartSpec(input);
  const markup = draw(spec);
  const { x, y, plot } = layOut(spec, wideSize(300));

  it('puts a known reading on its pixel', () => {
    const share = (12.9 - y.from) / (y.to - y.from);
    const cy = plot.bottom - share * (plot.bottom - plot.top);
    const along = (day('2025-05-20') - x.from) / (x.to - x.from);
    const cx = plot.left + along * (plot.right - plot.left);
    const circles = [...markup.matchAll(/<circle[^>]*cx="([\d.]+)" cy="([\d.]+)" r="4.2"/g)];
    const places = circles.map((circle) => [Number(circle[1]), Number(circle[2])]);
    expect(places[2]?.[0]).toBeCloseTo(cx, 6);
    expect(places[2]?.[1]).toBeCloseTo(cy, 6);
  });

  it('draws both limits across the plot at their values', () => {
    for (const limit of [10, 7])
      expect(markup).toContain(`d="M${plot.left} ${y.at(limit)}H${plot.right}"`);
  });

  it('parts the line at the fitted pump', () => {
    const main = /class="[^"]*main[^"]*" d="([^"]+)"/.exec(markup)?.[1] ?? '';
    expect(count(main, /M/g)).toBe(2);
  });

  it('shows the hollow point, the oil, the amendment, the fitment, today and the interval', () => {
    expect(count(markup, /hollow/g)).toBe(1);
    expect(count(markup, /class="[^"]*film/g)).toBe(1);
    expect(count(markup, /class="[^"]*wet/g)).toBe(1);
    expect(count(markup, /amended/g)).toBe(1);
    expect(markup).toContain('>pump B</text>');
    expect(markup).toContain('>today</text>');
    expect(markup).toContain('>week 7 to 18</text>');
  });

  it('has a title and a description that names the limit and the dates', () => {
    expect(markup).toMatch(/<title id="c-title">Idle vacuum, psi, sea-level equivalent<\/title>/);
    expect(markup).toMatch(/aria-labelledby="c-title c-desc"/);
    expect(spec.description).toContain('from 12.8 to 11.4 psi over 5 readings');
    expect(spec.description).toContain('wear limit of 10.0 psi in 12 weeks (2026-W08)');
  });

  it('says the same in each unit of measure', () => {
    // 12.8 psi by NIST SP 811: 88.25 kPa, 26.06 inHg.
    const first = (unit: 'kPa' | 'inHg') =>
      idleChartSpec({ ...input, pressureUnit: unit }).points[0]?.value;
    expect(first('kPa')).toBeCloseTo(88.25, 2);
    expect(first('inHg')).toBeCloseTo(26.06, 2);
  });

  it('has one row in its table for each reading and each forecast day', () => {
    const table = renderToStaticMarkup(createElement(ChartTable, { spec }));
    expect(count(table, /<tr/g)).toBe(2 + input.points.length + input.forecast.length);
    for (const { day: read } of input.points) expect(table).toContain(isoFromDay(read));
    expect(table).toContain('first recorded as 42.0, amended');
    expect(table).toContain('<summary>Show as a table</summary>');
  });

  it('tells of a reading behind today and of the forecast ahead', () => {
    expect(noteLines(spec, day('2025-05-22'))).toEqual([
      '2025-05-20',
      'Sea-level equivalent 12.9 psi',
      'As read 11.6 psi',
    ]);
    expect(noteLines(spec, asOf + 30)[0]).toBe(`Forecast ${isoFromDay(asOf + 28)}`);
  });
});

describe('charts of thin data', () => {
  const passage = { ...input.passage!, earliest80: null, median: null, latest80: null };
  const tooFew = { ...passage, whyNone: 'too few' as const };
  it.each([
    ['no reading', { points: [], forecast: [], passage: null }],
    ['one reading', { points: input.points.slice(0, 1), forecast: [], passage: tooFew }],
    [
      'one forecast day',
      { points: input.points.slice(0, 2), forecast: input.forecast.slice(0, 1) },
    ],
    ['no upper edge', { passage: { ...input.passage!, latest80: null } }],
    [
      'all alike',
      { points: input.points.map((each) => ({ ...each, sle: psi(10), asRead: psi(10) })) },
    ],
  ])('%s draws no NaN, no Infinity and nothing outside', (_, thin) => {
    for (const size of [wideSize(300), narrowSize(300)]) {
      const markup = draw(idleChartSpec({ ...input, ...thin }), size);
      expect(markup).not.toMatch(/NaN|Infinity|undefined/);
      for (const [, cx, cy] of markup.matchAll(/cx="([-\d.]+)" cy="([-\d.]+)"/g)) {
        expect(Number(cx)).toBeGreaterThanOrEqual(0);
        expect(Number(cx)).toBeLessThanOrEqual(size.width);
        expect(Number(cy)).toBeGreaterThanOrEqual(0);
        expect(Number(cy)).toBeLessThanOrEqual(size.height);
      }
    }
  });

  it('says that there are too few to forecast', () => {
    const spec = idleChartSpec({ ...input, points: input.points.slice(0, 2), passage: tooFew });
    expect(spec.description).toContain('too few to forecast');
    expect(spec.passage).toBeNull();
  });

  it('a sparkline of nothing shows its limit only', () => {
    const markup = renderToStaticMarkup(
      createElement(Sparkline, { points: [], limit: 10, days: [0, 700], values: [6, 14] }),
    );
    expect(markup).not.toMatch(/NaN|undefined|circle/);
    expect(count(markup, /<path/g)).toBe(1);
  });
});

describe('the recovery chart', () => {
  it('keeps seconds, and names its limits above their lines', () => {
    const spec = measureChartSpec({
      unit: '0417',
      name: 'Recovery after four presses',
      measure: 's',
      asOf,
      points: [{ day: asOf - 91, value: 4.1, line: 'dry' }],
      limits: [{ name: 'Stop', value: 30, isStop: true, stay: 'below' }],
      fitments: [],
    });
    const { y, plot } = layOut(spec, wideSize(200));
    expect(draw(spec, wideSize(200))).toContain(`x="${plot.left + 5}" y="${y.at(30) - 6}"`);
    expect(spec.description).toContain('was 4.1 s on 2025-08-26, the only reading. Stop 30.0 s.');
  });
});
