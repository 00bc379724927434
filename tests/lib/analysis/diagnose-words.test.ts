import { describe, expect, it } from 'vitest';
import type { Cause } from '@/lib/analysis/assessment';
import type { DiagnosisInput } from '@/lib/analysis/diagnose';
import { describeFeature } from '@/lib/analysis/diagnose-evidence';
import { nextCheckFor } from '@/lib/analysis/diagnose-next-check';
import { psi } from '../../support/a-unit';

const whole: DiagnosisInput = {
  idleDrop: psi(2),
  lowestDrop: psi(-1.5),
  recovery: 12,
  recoveryBaseline: 8,
  holdLoss: psi(0.4),
  holdTime: 60,
  idle: psi(11),
  raisedDifference: psi(0.2),
  line: 'dry',
};

describe('the next check', () => {
  const check = (said: Cause, alternatives: Cause[] = [], change: Partial<DiagnosisInput> = {}) =>
    nextCheckFor(said, alternatives, { ...whole, ...change });
  const noHold = { holdLoss: null };
  const noRecovery = { recovery: null };

  it('is what was not measured, where that would separate two causes', () => {
    for (const missing of [noHold, { holdTime: null }]) {
      expect(check('pump', ['leak'], missing)).toMatch(/^Engine off for 60 s/);
      expect(check('none shown', ['check valve'], missing)).toMatch(/^Engine off for 60 s/);
    }
    expect(check('pump', ['slipping belt'], noRecovery)).toMatch(/^Four full presses/);
    expect(check('none shown', ['restricted line'], noRecovery)).toMatch(/^Four full presses/);
    expect(check('leak', ['check valve'], noRecovery)).toMatch(/clamp the line/);
    // A hold tells nothing of belt and line, nor a recovery of a leak.
    expect(check('slipping belt', ['restricted line'], noHold)).toMatch(/look at the belt/);
    expect(check('pump', ['restricted line'], noHold)).toMatch(
      /^Gauge straight on the pump outlet/,
    );
  });

  it('separates the two likeliest', () => {
    expect(check('pump', ['slipping belt', 'restricted line'])).toMatch(/look at the belt/);
    expect(check('pump', ['leak', 'check valve'])).toMatch(/clamp the line/);
    expect(check('slipping belt', ['leak'])).toMatch(/look at the belt/);
    expect(check('restricted line')).toMatch(/look at the belt/);
    expect(check('leak', ['slipping belt'])).toMatch(/clamp the line/);
    expect(check('check valve')).toMatch(/clamp the line/);
    expect(check('pump', ['leak'])).toMatch(/^Gauge straight on the pump outlet/);
  });

  it('is none where nothing shows, and the hold first where none was done', () => {
    expect(check('none shown')).toMatch(/^None outstanding/);
    expect(check('none shown', [], noHold)).toMatch(/^Engine off for 60 s/);
    expect(check('none shown', ['pump'])).toMatch(/^None outstanding/);
    expect(check('none shown', ['pump'], { raisedDifference: null })).toMatch(
      /^Repeat idle at raised speed/,
    );
    expect(check('none shown', [], { raisedDifference: null })).toMatch(/^None outstanding/);
  });

  it('is a whole reading where nothing can be told', () => {
    expect(check('cannot tell')).toMatch(/^A whole reading/);
    expect(check('cannot tell', [], noHold)).toMatch(/^A whole reading/);
    expect(check('cannot tell', ['pump'], noHold)).toMatch(/^Engine off for 60 s/);
    expect(check('cannot tell', ['pump'], noRecovery)).toMatch(/^Four full presses/);
    expect(check('cannot tell', ['pump'])).toMatch(/^A whole reading/);
  });
});

describe('evidence', () => {
  const say = (
    feature: Parameters<typeof describeFeature>[0],
    change: Partial<DiagnosisInput> = {},
  ) => describeFeature(feature, { ...whole, ...change });

  it('states each measurement with its figure, in the unit of the reader', () => {
    expect(say('idle')).toBe('Idle is 2.0 psi below its own baseline.');
    expect(say('idle', { idleDrop: 10, pressureUnit: 'kPa' })).toBe(
      'Idle is 10.0 kPa below its own baseline.',
    );
    expect(say('idle', { idleDrop: 0 })).toBe('Idle is 0.0 psi below its own baseline.');
    expect(say('lowest')).toBe('Lowest is 1.5 psi above its own baseline.');
    expect(say('recovery')).toBe('Recovery takes 1.5 times its own baseline.');
    expect(say('raised')).toBe('Raised speed changes the vacuum by 0.2 psi.');
    expect(say('oil')).toBe('The line is dry at the booster.');
    for (const line of ['wet', 'film'] as const)
      expect(say('oil', { line })).toBe('There is oil in the line at the booster.');
  });

  it('calls a hold tight up to 0.5 psi a minute', () => {
    const tight =
      ': tight on the booster side of the check valve; the pump side does not show in a hold.';
    expect(say('hold')).toBe(`The hold lost 0.4 psi in 60 s${tight}`);
    expect(say('hold', { holdLoss: psi(0.5) })).toBe(`The hold lost 0.5 psi in 60 s${tight}`);
    expect(say('hold', { holdLoss: psi(-0.1) })).toBe(`The hold lost 0.0 psi in 60 s${tight}`);
    expect(say('hold', { holdLoss: psi(0.6) })).toBe('The hold lost 0.6 psi in 60 s.');
    expect(say('hold', { holdLoss: psi(2), holdTime: 300 })).toBe(
      `The hold lost 2.0 psi in 300 s${tight}`,
    );
  });
});
