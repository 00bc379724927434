import { describe, expect, it } from 'vitest';
import { type BulletinHistory, doesItHelp } from '@/lib/bulletins/does-it-help';

const history = (changes: Partial<BulletinHistory>): BulletinHistory => ({
  unit: '0417',
  isCovered: true,
  doneOn: null,
  observedFrom: 0,
  observedTo: 1459,
  failures: [],
  drifts: [],
  ...changes,
});
/** Two years before the work and two after, 1,460 days in all. */
const done = (changes: Partial<BulletinHistory> = {}) => history({ doneOn: 729, ...changes });

describe('does the bulletin help', () => {
  it('sets events over unit-years before against after', () => {
    const units = [
      ...Array.from({ length: 8 }, () => done({ failures: [300] })),
      ...Array.from({ length: 2 }, () => done({ failures: [1000] })),
      ...Array.from({ length: 10 }, () => done()),
    ];
    const { failures } = doesItHelp(units);
    expect(failures.before).toEqual({ events: 8, time: expect.closeTo((20 * 730) / 365.25, 9) });
    expect(failures.after).toEqual({ events: 2, time: expect.closeTo((20 * 730) / 365.25, 9) });
    // 2 in 40 against 8 in 40 unit-years, SciPy 1.17: .25, the limits from scipy.stats.beta.ppf.
    expect(failures.afterOverBefore).toMatchObject({
      ratio: expect.closeTo(0.25, 9),
      low: expect.closeTo(0.025862745, 9),
      high: expect.closeTo(1.252736602, 9),
    });
  });

  it('counts the day of the work as before, and nothing outside the observation', () => {
    const { failures } = doesItHelp([done({ failures: [-1, 729, 730, 1460] })]);
    expect(failures.before.events).toBe(1);
    expect(failures.after.events).toBe(1);
  });

  it('sets covered units, until the work, against those left out', () => {
    const { drifts, units } = doesItHelp([
      done({ drifts: [100, 900] }),
      history({ drifts: [200] }),
      history({ isCovered: false, drifts: [300] }),
    ]);
    expect(units).toEqual({ done: 1, notDone: 1, notCovered: 1 });
    expect(drifts.notCovered.events).toBe(1);
    expect(drifts.coveredNotDone).toEqual({ events: 2, time: expect.closeTo(2190 / 365.25, 9) });
    // (2 / (730 + 1460)) / (1 / 1460)
    expect(drifts.coveredOverNotCovered).toMatchObject({
      ratio: expect.closeTo((2 * 1460) / 2190, 9),
    });
  });

  it('names thin data, and always says that nothing was tried', () => {
    const empty = doesItHelp([]);
    expect(empty.failures.afterOverBefore).toEqual({ outcome: 'no time observed' });
    expect(doesItHelp([done()]).failures.afterOverBefore).toEqual({ outcome: 'no events' });
    expect(empty.caution).toContain('not tried');
  });

  it('gives work done before or after the observation no time on the other side', () => {
    const before = doesItHelp([done({ doneOn: -10, failures: [5] })]);
    expect(before.failures.before).toEqual({ events: 0, time: 0 });
    expect(before.failures.after.events).toBe(1);
    const later = doesItHelp([done({ doneOn: 2000, failures: [5] })]);
    expect(later.failures.after).toEqual({ events: 0, time: 0 });
    expect(later.failures.before.time).toBeCloseTo(1460 / 365.25, 9);
  });
});
