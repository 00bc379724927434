import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { assessUnit } from '@/lib/analysis/assess-unit';
import { defaultLimits } from '@/lib/analysis/limits';
import type { Reading } from '@/lib/analysis/reading';
import { ambientPressureAt, seaLevelPressure } from '@/lib/atmosphere';
import { type CallContext, callOf } from '@/lib/bay-card/call-of';
import { aUnit, psi, quarterly, readingOn } from '../../support/a-unit';

const history = quarterly(19_900, [13, 13.1, 12.9, 13]);
const offline: CallContext = {
  judgedBy: { heardOn: '2024-09-30' },
  limits: defaultLimits,
  ambient: seaLevelPressure,
  pressureUnit: 'psi',
  isProof: false,
  isOwnRepair: false,
};
const onRecord: CallContext = { ...offline, judgedBy: 'the desk' };

function callWith(change: Partial<Reading>, context: CallContext) {
  const reading = readingOn(20_000, change);
  return callOf(assessUnit(aUnit({ readings: [...history, reading] })), reading, context);
}

describe('the call', () => {
  it('without the desk says what it rests on, and never only that the unit may go out', () => {
    const call = callWith({}, offline);
    expect(call.verdict).toBe(
      'By this reading it may go out; last heard from the desk 2024-09-30.',
    );
    expect(callWith({}, onRecord).verdict).toBe('The unit may go out.');
  });

  it('past a stop names the hazard, and speaks of the board only once it is on it', () => {
    const kept = callWith({ pedal: 'went hard' }, offline);
    const recorded = callWith({ pedal: 'went hard' }, onRecord);
    for (const call of [kept, recorded]) {
      expect(call).toMatchObject({ mark: 'Out of service', verdict: 'Do not drive this unit.' });
      expect(call.hazard).toMatch(/people can be killed/);
    }
    expect(recorded.doNow).toContain('It is on the Stand-down board. Call the desk now.');
    expect(kept.doNow.join()).not.toContain('Stand-down board');
    expect(kept.doNow.join()).toContain('Call the desk now.');
  });

  it('a proof names what fails by the limits of the job: 12 psi idle, 10 psi lowest', () => {
    const proof = { ...onRecord, isProof: true };
    expect(callWith({ recovery: 6 }, proof).proof).toMatchObject({ passes: true });
    const own = callWith({ recovery: 6 }, { ...proof, isOwnRepair: true }).proof;
    expect(own?.passes).toBe(false);
    expect(own?.says).toMatch(/you certified this repair. Another person must read it/);
    const short = callWith({ idle: psi(11.5), lowest: psi(9) }, proof).proof;
    expect(short).toMatchObject({ passes: false });
    expect(short?.says).toMatch(/idle 11\.5 psi .*needs 12\.0 psi; lowest 9\.0 psi/);
  });

  it('shows the limits as the gauge reads at the shed: 10.0 psi is 8.3 psi at 1,500 m', () => {
    const reading = readingOn(20_000);
    const high = { ...onRecord, ambient: ambientPressureAt(1500) };
    const call = callOf(assessUnit(aUnit({ readings: [...history, reading] })), reading, high);
    // ISO 2533: 84.556 kPa at 1,500 m, so 10.0 × 84.556 / 101.325 = 8.35.
    expect(call.figures[0]).toMatchObject({ name: 'Idle', bookIn: '< 8.3', stop: '< 7.0' });
  });

  it('never uses the word safe, nor claims that someone was told, whatever was read', () => {
    const anyReading = fc.record({
      idle: fc.option(fc.double({ min: 0, max: 95, noNaN: true })),
      recovery: fc.option(fc.double({ min: 0, max: 60, noNaN: true })),
      holdLoss: fc.option(fc.double({ min: 0, max: 20, noNaN: true })),
      line: fc.constantFrom('dry' as const, 'film' as const, 'wet' as const, 'not seen' as const),
      pedal: fc.constantFrom('normal' as const, 'went hard' as const, 'hard' as const, null),
    });
    fc.assert(
      fc.property(anyReading, fc.boolean(), fc.boolean(), (read, isRecorded, isProof) => {
        const lowest = read.idle === null ? null : read.idle * 0.8;
        const context = { ...(isRecorded ? onRecord : offline), isProof };
        const call = callWith({ ...read, lowest }, context);
        const words = JSON.stringify(call);
        expect(words).not.toMatch(/\bsafe|was told|has been told|informed|NaN|undefined/i);
        expect(call.mayGoOut).toBe(call.hazard === null);
        expect(call.doNow.length).toBeGreaterThan(0);
      }),
      { numRuns: 150 },
    );
  });
});
