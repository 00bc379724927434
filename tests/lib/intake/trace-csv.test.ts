import { describe, expect, it } from 'vitest';
import { parseTraceCsv } from '@/lib/intake/trace-csv';

const samplesOf = (text: string, columns = {}) => {
  const result = parseTraceCsv(text, columns);
  if (!result.ok) throw new Error(result.error[0]!.message);
  return result.value;
};
const problemsOf = (text: string, columns = {}) => {
  const result = parseTraceCsv(text, columns);
  return result.ok ? [] : result.error;
};

describe('a logging gauge’s file', () => {
  it('is read in kPa and seconds', () => {
    const { samples, pressureUnit } = samplesOf('t_s,vacuum_psi\n0,13\n0.1,12.5\n');
    expect(pressureUnit).toBe('psi');
    // NIST SP 811: 1 psi = 6.894757 kPa.
    expect(samples).toEqual([
      { t: 0, vacuum: 13 * 6.894757 },
      { t: 0.1, vacuum: 12.5 * 6.894757 },
    ]);
  });

  it('leaves out and counts what the logger dropped, up to 1 line in 50', () => {
    const lines = (dropped: readonly number[]) =>
      Array.from({ length: 100 }, (_, i) => `${i / 10},${dropped.includes(i) ? '---' : 13}`);
    const { samples, missed } = samplesOf(`t_s,vacuum_psi\n${lines([40]).join('\n')}`);
    expect([samples.length, missed]).toEqual([99, 1]);
    const many = problemsOf(`t_s,vacuum_psi\n${lines([10, 40, 70]).join('\n')}`);
    expect(many.map(({ line, value }) => [line, value])).toEqual([
      [12, '---'],
      [42, '---'],
      [72, '---'],
    ]);
  });

  it('takes decimal commas between semicolons, lines before the heading and Windows line ends', () => {
    const { samples } = samplesOf(
      '\uFEFFGauge 4;bay 2\r\n\r\nTime (s);Vacuum (kPa)\r\n2,0;89,6\r\n2,1;89,5\r\n',
    );
    expect(samples[0]).toEqual({ t: 0, vacuum: 89.6 });
    expect(samples[1]!.t).toBeCloseTo(0.1, 9);
  });

  it('takes tabs, quotes, clock times, milliseconds and negative pressure', () => {
    expect(
      samplesOf('"Time"\t"Pressure inHg"\n12:00:01.5\t-20\n12:00:02.0\t-21\n').samples,
    ).toEqual([
      { t: 0, vacuum: 20 * 3.386389 },
      { t: 0.5, vacuum: 21 * 3.386389 },
    ]);
    expect(samplesOf('time_ms|p_kPa\n100|80\n350|81\n').samples[1]).toEqual({
      t: 0.25,
      vacuum: 81,
    });
  });

  it('takes blanks, and tabs before an empty first column', () => {
    expect(samplesOf('time  vacuum_psi\n0.0  13.0\n 0.1  12.9\n').samples).toHaveLength(2);
    const tabs = samplesOf('\ttime\tpsi\n\t0\t13\n\t0.5\t12\n');
    expect(tabs.samples[1]).toEqual({ t: 0.5, vacuum: 12 * 6.894757 });
  });

  it('takes columns by name or number, in any order', () => {
    const text = 'battery,channel B kPa,elapsed\n12.1,80,0\n12.0,81,1\n';
    const named = samplesOf(text, { pressure: 'channel B kPa', time: 'elapsed' });
    expect(named.samples).toEqual(samplesOf(text, { pressure: 2, time: 3 }).samples);
    expect(named.samples).toEqual([
      { t: 0, vacuum: 80 },
      { t: 1, vacuum: 81 },
    ]);
    expect(samplesOf(text).samples).toEqual(named.samples);
  });

  it('is not misled by lines of prose, commas between quotes or a last line', () => {
    const prose = 'Logger, model 5\nSite, bay 2\nSerial, 77\n';
    const log = 'Zeit [s];Unterdruck [kPa]\n2,0;89,6\n2,5;89,5\nEnd of log\n';
    const expected = [
      { t: 0, vacuum: 89.6 },
      { t: 0.5, vacuum: 89.5 },
    ];
    expect(samplesOf(prose + log).samples).toEqual(expected);
    expect(samplesOf(prose + log.replaceAll(';', '|')).samples).toEqual(expected);
    expect(samplesOf('"Time","Vacuum kPa"\n"2,0","89,6"\n"2,5","89,5"\n').samples).toEqual(
      expected,
    );
  });

  it.each([
    ['2026-11-29T11:59:59.5Z', '2026-11-29T12:00:00.0Z'],
    ['2026-11-29 11:59:59,5+01:00', '2026-11-29 12:00:00,0+01:00'],
    ['11/29/2026 11:59:59.5 AM', '11/29/2026 12:00:00.0 PM'],
    ['59:59.5', '60:00.0'],
    ['23:59:59.5', '0:00:00.0'],
  ])('takes the clock time %s, and half a second on to %s', (first, second) => {
    const { samples } = samplesOf(`Time ms;Vacuum kPa\n${first};80\n${second};81\n`);
    expect(samples).toEqual([
      { t: 0, vacuum: 80 },
      { t: 0.5, vacuum: 81 },
    ]);
  });

  it('takes the units of other trades, and refuses absolute pressure', () => {
    const minutes = samplesOf('t;Druck mbar\n0;-800\n0,5;-810\n', { timeUnit: 'min' });
    expect(minutes.samples).toEqual([
      { t: 0, vacuum: 80 },
      { t: 30, vacuum: 81 },
    ]);
    // NIST SP 811: 1 mmHg = 0.1333224 kPa.
    expect(samplesOf('t;mmHg\n0;600\n').samples[0]?.vacuum).toBeCloseTo(600 * 0.1333224, 9);
    expect(samplesOf('t;vacuum (bar)\n0;0,8\n').samples[0]?.vacuum).toBeCloseTo(80, 9);
    expect(problemsOf('t,p kPa abs\n0,6.03\n')).toMatchObject([
      { field: 'pressure', message: 'p kPa abs is absolute pressure, not vacuum.' },
    ]);
    expect(problemsOf('date,t,psi\nMay,0,13\n', { time: 1 })[0]?.field).toBe('time');
  });

  it('asks for the unit rather than guess it', () => {
    expect(problemsOf('0,13\n1,13\n')[0]!.field).toBe('pressureUnit');
    expect(samplesOf('0,13\n1,13\n', { pressureUnit: 'psi' }).samples).toHaveLength(2);
  });

  it('names the lines it cannot read', () => {
    expect(problemsOf('t_s,vacuum_psi\n0,13\n0.1,n/a\n0.2,13\n')).toMatchObject([
      { field: 'pressure', line: 3, value: 'n/a' },
    ]);
    expect(problemsOf('')[0]!.field).toBe('file');
    expect(problemsOf('one\ntwo\n')[0]!.field).toBe('file');
    expect(problemsOf('a,b\nc,d\n')[0]!.field).toBe('file');
    expect(problemsOf('t,psi\n0,13\n', { time: 'clock' })[0]!.field).toBe('time');
  });
});
