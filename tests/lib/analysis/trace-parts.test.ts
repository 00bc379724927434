import { describe, expect, it } from 'vitest';
import { measureHold } from '@/lib/analysis/trace-hold';
import { lowestOf, releaseOf } from '@/lib/analysis/trace-lowest';
import {
  fitRecovery,
  type Recovery,
  recoveredAt,
  secondsToLevel,
} from '@/lib/analysis/trace-recovery';
import { type ScreenedTrace, screenTrace } from '@/lib/analysis/trace-screen';
import { toKilopascals } from '@/lib/measure';

const psi = (value: number) => toKilopascals(value, 'psi');
const clock = (seconds: number, hertz: number) =>
  Array.from({ length: Math.round(seconds * hertz) + 1 }, (_, k) => k / hertz);
const sampled = (times: readonly number[], vacuum: (t: number, k: number) => number) =>
  times.map((t, k) => ({ t, vacuum: vacuum(t, k) }));
const trace = (times: readonly number[], vacuum: (t: number) => number): ScreenedTrace => {
  const interval = times[1]! - times[0]!;
  return { times, vacuum: times.map(vacuum), interval, sampleRate: 1 / interval, noise: 0 };
};

describe('screenTrace at its limits', () => {
  const level = (times: readonly number[], vacuum = 85) =>
    screenTrace(sampled(times, () => vacuum));
  const refusal = (result: ReturnType<typeof screenTrace>) =>
    result.ok ? null : result.error.rule;

  it.each<[string, ReturnType<typeof screenTrace>, string | null]>([
    ['15 s', level(clock(15, 10)), null],
    ['14.9 s', level(clock(14.9, 10)), 'too short'],
    ['4 a second', level(clock(30, 4)), null],
    ['3.9 a second', level(clock(30, 3.9)), 'too slow'],
    ['a gap of 1 s', level(clock(30, 10).filter((t) => t <= 9 || t >= 10)), null],
    ['a gap of 1.1 s', level(clock(30, 10).filter((t) => t <= 9 || t > 10)), 'irregular'],
    ['one time twice', level([...clock(20, 10), 20]), 'time not rising'],
    ['102 % of the air', level(clock(30, 10), 1.0199 * 101.325), null],
    ['more', level(clock(30, 10), 1.0201 * 101.325), 'wrong unit'],
    ['2.2 psi', level(clock(30, 10), psi(2.201)), null],
    ['less', level(clock(30, 10), psi(2.199)), 'wrong unit'],
    ['one sample', level([0]), 'too short'],
    ['a time that is none', level([...clock(30, 10), Number.NaN]), 'not a number'],
    ['a pressure that is none', screenTrace(sampled(clock(30, 10), (t) => 1 / t)), 'not a number'],
  ])('%s', (_, result, rule) => {
    expect(refusal(result)).toBe(rule);
  });

  it('judges by the highest sample, and by the air of the place', () => {
    const low = sampled(clock(30, 10), (t) => (t === 5 ? 80 : 5));
    expect(refusal(screenTrace(low))).toBeNull();
    const high = sampled(clock(30, 10), (t) => (t === 5 ? 90 : 60));
    expect(refusal(screenTrace(high, 85))).toBe('wrong unit');
    expect(refusal(screenTrace(high, 90))).toBeNull();
  });

  it('takes the spread of neighbours for the noise: 1.4826 MAD / root 2', () => {
    // As many rises as falls, each of d: their median is 0 and their MAD d.
    const saw = (d: number, hertz: number) =>
      screenTrace(sampled(clock(20, hertz), (_, k) => 80 + (k % 2) * d));
    const noisy = saw(0.5, 10);
    expect(noisy.ok && noisy.value.noise).toBeCloseTo((1.4826 * 0.5) / Math.SQRT2, 4);
    expect(noisy.ok && noisy.value).toMatchObject({
      interval: expect.closeTo(0.1, 9),
      sampleRate: expect.closeTo(10, 9),
    });
    const atMost = (0.22 * psi(1) * Math.SQRT2) / 1.4826;
    expect(refusal(saw(atMost * 0.999, 10))).toBeNull();
    expect(refusal(saw(atMost * 1.001, 10))).toBe('too noisy');
    expect(refusal(saw(atMost * 1.001, 19))).toBe('too noisy');
    expect(refusal(saw(atMost * 1.001, 20))).toBeNull();
  });

  it('takes out a single spike, but no step, no slope and no end', () => {
    const step = (t: number) => (t < 8 ? 85 : 60 + (t - 8));
    const at = (...spikes: number[]) => {
      const result = screenTrace(
        sampled(clock(20, 10), (t, k) => step(t) + (spikes.includes(k) ? 3 : 0)),
      );
      return result.ok ? result.value.vacuum : [];
    };
    const clean = clock(20, 10).map(step);
    expect(at()).toEqual(clean);
    expect(at(30)).toEqual(clean);
    for (const k of [2, 198]) expect(at(k)[k]).toBeLessThan(clean[k]! + 0.3);
    for (const k of [0, 1, 199, 200]) expect(at(k)[k]).toBeCloseTo(clean[k]! + 3, 9);
    expect(at(30, 31, 32)[31]).toBeCloseTo(88, 9);
  });
});

describe('lowestOf', () => {
  const times = clock(60, 10);
  const presses = [100, 130, 160, 190].map((at) => ({ at, fall: 10 }));
  const timeConstant = 5;
  /** Each press leaves `levels`; from its release on vacuum nears 85 kPa. */
  const pressed = (...levels: number[]) => {
    const empty = trace(times, () => 0);
    return trace(times, (t) => {
      const k = presses.findLastIndex(({ at }) => releaseOf(empty, at) < t);
      if (k < 0) return 85;
      const since = t - releaseOf(empty, presses[k]!.at);
      return 85 - (85 - levels[k]!) * Math.exp(-since / timeConstant);
    });
  };
  const recovery: Recovery = { release: 18.95, end: 85, drop: 25, timeConstant };

  it('a release lies midway between two samples', () => {
    expect(releaseOf(pressed(70, 66, 63, 60), 100)).toBeCloseTo(9.95, 12);
  });

  it.each([
    [[70, 66, 63, 60], 60],
    [[70, 58, 63, 60], 58],
    [[55, 66, 63, 60], 55],
  ])('finds the least of levels %j, taken back along the recovery', (levels, least) => {
    expect(lowestOf(pressed(...levels), presses, recovery)).toBeCloseTo(least, 4);
  });

  it('without a recovery, takes the samples as they stand', () => {
    const between = pressed(55, 66, 63, 60);
    const samples = between.vacuum.slice(100, 130);
    const mean = samples.reduce((sum, value) => sum + value, 0) / samples.length;
    const levels = lowestOf(between, presses.slice(0, 2), null);
    expect(levels).toBeCloseTo(Math.min(mean, 66), 4);
  });

  it('where the log ends with the last press, its first second must do', () => {
    const whole = pressed(70, 66, 63, 60);
    const cut = { ...whole, times: times.slice(0, 205), vacuum: whole.vacuum.slice(0, 205) };
    expect(lowestOf(cut, presses, recovery)).toBeCloseTo(60, 6);
  });

  it('never takes a sample for higher than it is', () => {
    const above = trace(times, (t) => (t > 18.95 && t < 20 ? 87 : 80));
    const cut = { ...above, times: times.slice(0, 205), vacuum: above.vacuum.slice(0, 205) };
    expect(lowestOf(cut, presses.slice(3), recovery)).toBeLessThanOrEqual(87);
  });
});

describe('recovery', () => {
  const release = 9.95;
  const truth: Recovery = { release, end: 85, drop: 20, timeConstant: 4 };
  const curve = (t: number) => (t < release ? 85 : 85 - 20 * Math.exp(-(t - release) / 4));
  const rising = trace(clock(60, 10), curve);

  it('is fitted to an exponential from its release until the time given', () => {
    const fit = fitRecovery(rising, 100, 60)!;
    for (const name of ['release', 'end', 'drop', 'timeConstant'] as const)
      expect(fit[name]).toBeCloseTo(truth[name], 5);
    const late = trace(clock(60, 10), (t) => (t < 20 ? curve(t) : 3));
    expect(fitRecovery(late, 100, 20)!.end).toBeCloseTo(85, 4);
    expect(recoveredAt(truth, release)).toBe(65);
    expect(recoveredAt(truth, release + 4)).toBeCloseTo(85 - 20 / Math.E, 12);
  });

  it('is none under 3 s, nor where vacuum falls', () => {
    expect(fitRecovery(rising, 100, release + 2.9)).toBeNull();
    expect(fitRecovery(rising, 100, release + 3.2)).not.toBeNull();
    const falling = trace(clock(60, 10), (t) => 170 - curve(t));
    expect(fitRecovery(falling, 100, 60)).toBeNull();
  });

  it('meets a level after tau ln(drop / what is left), if it does so in time', () => {
    expect(secondsToLevel(rising, truth, 80, 60)).toBeCloseTo(4 * Math.log(4), 9);
    expect(secondsToLevel(rising, truth, 85, 60)).toBeNull();
    expect(secondsToLevel(rising, truth, 84.9, 30)).toBeNull();
    expect(secondsToLevel(rising, truth, 84.9, 32)).toBeCloseTo(4 * Math.log(200), 9);
    expect(secondsToLevel(rising, truth, 60, 60)).toBe(0);
  });

  it('is moved by what the samples lie off the fit within 2 s of then', () => {
    const at = release + 4 * Math.log(4);
    const raised = (from: number, to: number) =>
      trace(clock(60, 10), (t) => curve(t) + (t >= at + from && t <= at + to ? 0.5 : 0));
    expect(secondsToLevel(raised(-2, 2), truth, 80, 60)).toBeCloseTo(4 * Math.log(20 / 5.5), 9);
    expect(secondsToLevel(raised(2.01, 9), truth, 80, 60)).toBeCloseTo(4 * Math.log(4), 9);
    expect(secondsToLevel(raised(-9, -2.01), truth, 80, 60)).toBeCloseTo(4 * Math.log(4), 9);
    // Neither samples before the release nor those from the end on have a say.
    const soon = trace(clock(60, 10), (t) => (t < release ? 40 : curve(t)));
    expect(secondsToLevel(soon, truth, 66, 60)).toBeCloseTo(4 * Math.log(20 / 19), 9);
    const cut = trace(clock(60, 10), (t) => (t >= at + 1 ? 0 : curve(t)));
    expect(secondsToLevel(cut, truth, 80, at + 1)).toBeCloseTo(4 * Math.log(4), 9);
  });
});

describe('measureHold', () => {
  const release = 20;
  const recovery: Recovery = { release, end: 85, drop: 20, timeConstant: 4 };
  const recovered = (t: number) => (t < release ? 65 : 85 - 20 * Math.exp(-(t - release) / 4));
  const falling = (seconds: number, keyOff: number, fallen: (since: number) => number) =>
    trace(clock(seconds, 5), (t) => recovered(t) - fallen(Math.max(0, t - keyOff)));
  const evenly = (rate: number) => (since: number) => rate * since;

  it('a steady fall from a marked key-off: the rate times 60 s', () => {
    const hold = measureHold(falling(180, 90, evenly(0.05)), recovery, 90);
    expect(hold).toEqual({
      keyOff: 90,
      keyOffFound: 'marked',
      loss: expect.closeTo(3, 4),
      duration: 60,
    });
    expect(measureHold(falling(180, 90, evenly(0)), recovery, 90).loss).toBeCloseTo(0, 4);
  });

  it('of a shorter hold, what was lost by about its end; under 15 s, nothing', () => {
    const hold = measureHold(falling(130, 90, evenly(0.05)), recovery, 90);
    expect(hold.duration).toBeGreaterThan(35);
    expect(hold.duration).toBeLessThanOrEqual(40);
    expect(Math.abs(hold.loss! / 0.05 - hold.duration!)).toBeLessThan(2);
    const none = { keyOff: 90, keyOffFound: 'marked', loss: null, duration: null };
    expect(measureHold(falling(104.8, 90, evenly(0.05)), recovery, 90)).toEqual(none);
    expect(measureHold(falling(105, 90, evenly(0.05)), recovery, 90).loss).not.toBeNull();
  });

  it('counts from the release where the key was turned soon after', () => {
    const quick = trace(clock(120, 5), (t) => (t < release ? 40 : 85));
    const hold = measureHold(quick, { ...recovery, drop: 0 }, release + 2);
    expect(hold.loss).toBeCloseTo(0, 9);
  });

  it.each([5, 20, 60, 200, 3000])('finds the bend where a leak of %i s begins', (timeConstant) => {
    const share = 1 - Math.exp(-90 / timeConstant);
    const leak = (since: number) => (4 * (1 - Math.exp(-since / timeConstant))) / share;
    const hold = measureHold(falling(160, 70, leak), recovery, null);
    expect(hold.keyOffFound).toBe('found');
    expect(Math.abs(hold.keyOff! - 70)).toBeLessThanOrEqual(1);
    expect(Math.abs(hold.loss! - leak(60))).toBeLessThan(0.15);
  });

  it('finds none in a fall under 0.3 psi, in a rise, or within noise', () => {
    const none = { keyOff: null, keyOffFound: 'not found', loss: null, duration: null };
    const fallBy = (kPa: number) => falling(160, 70, (since) => (kPa * since) / 90);
    expect(measureHold(fallBy(psi(0.2)), recovery, null)).toEqual(none);
    expect(measureHold(fallBy(-4), recovery, null)).toEqual(none);
    expect(measureHold(fallBy(psi(0.6)), recovery, null).keyOffFound).toBe('found');
    // 451 samples of a fall to 4.14 kPa: their squares sum to 451 x 4.14^2 / 3 = 2,570, which is 25
    // variances of a noise of 10.1 kPa.
    const under = (noise: number) => measureHold({ ...fallBy(psi(0.6)), noise }, recovery, null);
    expect(under(9).keyOffFound).toBe('found');
    expect(under(11)).toEqual(none);
  });
});
