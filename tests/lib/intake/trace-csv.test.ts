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
