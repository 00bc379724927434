import { describe, expect, it } from 'vitest';
import { defaultLimits } from '@/lib/analysis/limits';
import type { Reading } from '@/lib/analysis/reading';
import { ambientPressureAt, seaLevelPressure } from '@/lib/atmosphere';
import { toKilopascals } from '@/lib/measure';
import { proofFailures, proofFailureWords } from '@/lib/stand-down/proof-failures';

const psi = (value: number) => toKilopascals(value, 'psi');
const sound: Reading = {
  id: 'r',
  readOn: 20_000,
  entry: 1,
  idle: psi(13),
  raised: psi(13.3),
  lowest: psi(10.5),
  recovery: 4,
  holdLoss: psi(0.2),
  holdTime: 60,
  line: 'dry',
  pedal: 'normal',
  belt: 'sound',
  barometer: null,
  odometer: 50_000,
  technician: 't',
  gauge: 'g',
};
const judged = (change: Partial<Reading>, ambient = seaLevelPressure) =>
  proofFailures({ ...sound, ...change }, defaultLimits, ambient);
const failed = (change: Partial<Reading>) => judged(change).failures.map(({ measure }) => measure);

// Common practice, no published source: at least 12 psi idle, 10 psi lowest, quick recovery, holds, dry.
describe('what a proof needs', () => {
  it('passes a sound reading', () => {
    expect(judged({})).toEqual({ failures: [], notMeasured: [] });
  });

  it('is met at the limit and failed just past it', () => {
    expect(failed({ idle: psi(12), lowest: psi(10), recovery: 15, holdLoss: psi(0.5) })).toEqual(
      [],
    );
    expect(failed({ idle: psi(12) - 1e-9 })).toEqual(['idle']);
    expect(failed({ lowest: psi(10) - 1e-9 })).toEqual(['lowest']);
    expect(failed({ recovery: 15 + 1e-9 })).toEqual(['recovery']);
    expect(failed({ holdLoss: psi(0.5) + 1e-9 })).toEqual(['hold']);
  });

  it.each(['film', 'wet'] as const)('fails a line with %s', (line) => {
    expect(failed({ line })).toEqual(['line']);
  });

  it.each(['went hard', 'hard'] as const)('fails a pedal that is %s', (pedal) => {
    expect(judged({ pedal }).failures).toEqual([{ measure: 'pedal', found: pedal }]);
  });

  it('neither passes nor fails what was not measured', () => {
    const blank = {
      idle: null,
      lowest: null,
      recovery: null,
      holdLoss: null,
      pedal: null,
    } as const;
    expect(judged({ ...blank, line: 'not seen' })).toEqual({
      failures: [],
      notMeasured: ['idle', 'lowest', 'recovery', 'hold', 'line', 'pedal'],
    });
  });

  it('holds for a minute, or has not been held', () => {
    expect(judged({ holdTime: 15 }).notMeasured).toEqual(['hold']);
    expect(judged({ holdTime: 15, holdLoss: psi(2) }).failures[0]?.measure).toBe('hold');
    expect(failed({ holdTime: 300, holdLoss: psi(0.7) })).toEqual([]);
    expect(failed({ holdTime: 299, holdLoss: psi(0.7) })).toEqual([]);
    expect(failed({ holdTime: 120, holdLoss: psi(0.9) })).toEqual([]);
    expect(failed({ holdTime: 120, holdLoss: psi(1.1) })).toEqual(['hold']);
  });

  it('judges wear by the sea-level equivalent: 12.0 psi at sea level is 10 psi at 5,000 ft', () => {
    // Standard atmosphere, 5,000 ft: 12.228 psi of 14.696.
    const yard = ambientPressureAt(1_524);
    expect(judged({ idle: psi(10), lowest: psi(8.4) }, yard).failures).toEqual([]);
    expect(judged({ idle: psi(9.9), lowest: psi(8.4) }, yard).failures[0]?.measure).toBe('idle');
  });

  it('says so in the unit of whoever reads it', () => {
    const [failure] = judged({ idle: psi(11.2) }).failures;
    expect(failure && proofFailureWords(failure, 'psi')).toBe(
      'idle 11.2 psi at sea level, needs 12.0 psi',
    );
    expect(proofFailureWords({ measure: 'pedal', found: 'hard' }, 'psi')).toBe('pedal hard');
    expect(proofFailureWords({ measure: 'recovery', value: 20, limit: 15 }, 'psi')).toBe(
      'recovery 20.0 s, may take 15.0 s',
    );
    expect(proofFailureWords({ measure: 'hold', value: 6.9, limit: 3.4 }, 'kPa')).toBe(
      'hold loss 6.9 kPa, may lose 3.4 kPa',
    );
  });
});
