import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analyseTrace, type TraceReading, type TraceSample } from '@/lib/analysis/trace';
import { parseTraceCsv } from '@/lib/intake/trace-csv';
import { fromKilopascals, toKilopascals } from '@/lib/measure';
import { exponentialApproach } from '@/lib/statistics/exponential-approach';
import { type PumpSystem, simulateTrace, soundSystem } from '../../support/pump-model';
import { type Random, randomFrom } from '../../support/random';

const figures = new URL('../../published/figures/traces/', import.meta.url);
const psi = (kilopascals: number) => fromKilopascals(kilopascals, 'psi');
const quantile = (values: readonly number[], share: number) =>
  values.toSorted((a, b) => a - b)[Math.floor(share * (values.length - 1))]!;

function read(samples: readonly TraceSample[], keyOff?: number): TraceReading {
  const result = analyseTrace(samples, keyOff === undefined ? {} : { keyOff });
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
}

// Simulated elsewhere with known truth; see the figures' own README.
describe('twelve given traces', () => {
  const truth = readFileSync(new URL('truth.csv', figures), 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','));
  const traces = truth.map(
    ([trace, hertz, , cause, , release, keyOff, , idle, lowest, tau, loss]) => {
      const file = new URL(`trace_${trace!.padStart(2, '0')}.csv`, figures);
      const parsed = parseTraceCsv(readFileSync(file, 'utf8'));
      if (!parsed.ok) throw new Error(parsed.error[0]!.message);
      return {
        name: `${trace} ${cause} at ${hertz} Hz`,
        samples: parsed.value.samples,
        release: Number(release),
        keyOff: Number(keyOff),
        idle: Number(idle),
        lowest: Number(lowest),
        tau: Number(tau),
        loss: Number(loss),
        cause,
      };
    },
  );

  it.each(traces)('reads $name', (trace) => {
    const reading = read(trace.samples, trace.keyOff);
    expect(reading.presses).toHaveLength(4);
    expect(Math.abs(reading.lastRelease - trace.release)).toBeLessThan(0.21);
    expect(Math.abs(psi(reading.idle) - trace.idle)).toBeLessThan(0.06);
    expect(Math.abs(psi(reading.lowest) - trace.lowest)).toBeLessThan(0.15);
    expect(Math.abs(reading.timeConstant! / trace.tau - 1)).toBeLessThan(0.06);
    expect(Math.abs(psi(reading.holdLoss!) - trace.loss)).toBeLessThan(0.1);
    expect(reading.holdTime).toBe(60);
  });

  it.each(traces)('finds the key-off of $name only where vacuum falls', (trace) => {
    const reading = read(trace.samples);
    if (trace.loss < 0.2) expect(reading.keyOffFound).toBe('not found');
    else {
      expect(reading.keyOffFound).toBe('found');
      expect(Math.abs(reading.keyOff! - trace.keyOff)).toBeLessThan(6);
      expect(Math.abs(psi(reading.holdLoss!) - trace.loss)).toBeLessThan(0.1);
    }
  });
});

function anySystem({ uniform }: Random, kind: number): PumpSystem {
  const share = uniform();
  const sound = {
    ...soundSystem,
    clearance: 0.1 + 0.06 * uniform(),
    ambient: 12.5 + 2.4 * uniform(),
    pressVolume: 0.5 + 0.1 * uniform(),
  };
  if (kind === 1) return { ...sound, backLeak: 0.02 + 0.3 * share };
  if (kind === 2) return { ...sound, boosterLeak: 0.003 + 0.05 * share };
  if (kind === 3) return { ...sound, sweep: 0.5 + 0.8 * share };
  if (kind === 4) return { ...sound, valveLeak: 0.001 + 0.01 * share };
  return sound;
}

function simulate(random: Random, hertz: number, noise: number, kind: number) {
  const { truth, samples } = simulateTrace(
    anySystem(random, kind),
    {
      hertz,
      noise,
      presses: 4,
      firstPress: 6.5 + 6 * random.uniform(),
      interval: 1 + 0.4 * random.uniform(),
      recover: 40.8,
      hold: 80,
    },
    random.normal,
  );
  return {
    truth,
    samples: samples.map(({ t, psi: value }) => ({ t, vacuum: toKilopascals(value, 'psi') })),
  };
}

// Targets: own, from the method's study at the same rate and noise.
describe('simulated traces', () => {
  const many = 120;

  it.each([
    { hertz: 10, noise: 0.15, right: 0.96, tau: 0.05, lowest: 0.18 },
    { hertz: 20, noise: 0.15, right: 0.96, tau: 0.04, lowest: 0.15 },
    { hertz: 5, noise: 0.15, right: 0.9, tau: 0.09, lowest: 0.2 },
  ])('at $hertz Hz and $noise psi', ({ hertz, noise, right, tau, lowest }) => {
    const random = randomFrom(hertz);
    const errors = {
      idle: [] as number[],
      lowest: [] as number[],
      tau: [] as number[],
      loss: [] as number[],
    };
    let correct = 0;
    for (let index = 0; index < many; index++) {
      const { samples, truth } = simulate(random, hertz, noise, index % 5);
      const reading = read(samples, truth.keyOff);
      const noiseless = exponentialApproach(
        truth.recovery.map(({ t }) => t),
        truth.recovery.map(({ psi: value }) => value),
      );
      const areRight =
        reading.presses.length === truth.presses.length &&
        reading.presses.every((t, press) => Math.abs(t - truth.presses[press]!) < 0.3);
      if (areRight) correct++;
      errors.idle.push(Math.abs(psi(reading.idle) - truth.idle));
      errors.lowest.push(Math.abs(psi(reading.lowest) - truth.lowest));
      errors.tau.push(Math.abs(reading.timeConstant! / noiseless.timeConstant! - 1));
      errors.loss.push(Math.abs(psi(reading.holdLoss!) - truth.loss60));
    }
    expect(correct / many).toBeGreaterThanOrEqual(right);
    expect(quantile(errors.tau, 0.9)).toBeLessThanOrEqual(tau);
    expect(quantile(errors.lowest, 0.9)).toBeLessThanOrEqual(lowest);
    expect(quantile(errors.idle, 0.9)).toBeLessThanOrEqual(0.07);
    expect(quantile(errors.loss, 0.9)).toBeLessThanOrEqual(0.09);
  });

  it('times the recovery to within 0.5 psi of idle', () => {
    const random = randomFrom(3);
    const errors = Array.from({ length: 30 }, (_, index) => {
      const { samples, truth } = simulate(random, 10, 0.1, index % 5);
      const back = truth.recovery.find(({ psi: value }) => value >= truth.idle - 0.5)!;
      return Math.abs(read(samples, truth.keyOff).recovery! - back.t);
    });
    expect(quantile(errors, 0.9)).toBeLessThan(2);
  });

  it('tells recovery to a fixed level apart from recovery to a worn pump’s own idle', () => {
    const random = randomFrom(11);
    const sound = simulate(random, 20, 0.05, 0);
    const worn = simulateTrace(
      { ...soundSystem, backLeak: 0.15 },
      { hertz: 20, noise: 0.05, presses: 4, firstPress: 8, interval: 1.2, recover: 40, hold: 70 },
      random.normal,
    ).samples.map(({ t, psi: value }) => ({ t, vacuum: toKilopascals(value, 'psi') }));
    const level = toKilopascals(11, 'psi');
    const soundReading = read(sound.samples, sound.truth.keyOff);
    const wornReading = analyseTrace(worn, { level });
    expect(wornReading.ok && wornReading.value.recovery! < soundReading.recovery!).toBe(true);
    expect(
      wornReading.ok && wornReading.value.recoveryToLevel! > soundReading.recoveryToLevel!,
    ).toBe(true);
  });

  it('does not mind when the log starts, nor a steady pressure unit', () => {
    const { samples, truth } = simulate(randomFrom(5), 10, 0.1, 1);
    const plain = read(samples, truth.keyOff);
    fc.assert(
      fc.property(fc.integer({ min: -3600, max: 3600 }), (shift) => {
        const moved = read(
          samples.map(({ t, vacuum }) => ({ t: t + shift, vacuum })),
          truth.keyOff + shift,
        );
        expect(moved.presses).toHaveLength(plain.presses.length);
        expect(moved.lastRelease - shift).toBeCloseTo(plain.lastRelease, 6);
        expect(moved.idle).toBeCloseTo(plain.idle, 6);
        expect(moved.timeConstant!).toBeCloseTo(plain.timeConstant!, 3);
      }),
      { numRuns: 10 },
    );
  });
});

describe('what the technician marked', () => {
  const { samples, truth } = simulate(randomFrom(5), 10, 0.05, 1);
  const found = read(samples, truth.keyOff);
  const marked = (options: Parameters<typeof analyseTrace>[1], start = 0) => {
    const result = analyseTrace(
      samples.map(({ t, vacuum }) => ({ t: t + start, vacuum })),
      options,
    );
    if (!result.ok) throw new Error(result.error.rule);
    return result.value;
  };

  it('stands in place of what was found, in any order, on the clock of the log', () => {
    for (const start of [0, 5000]) {
      const presses = found.presses.map((at) => at + start);
      const reading = marked(
        { presses: [start - 1, ...presses.toReversed()], keyOff: truth.keyOff + start },
        start,
      );
      for (const [k, at] of reading.presses.entries()) expect(at).toBeCloseTo(presses[k]!, 6);
      expect(reading.presses).toHaveLength(presses.length);
      expect(reading.lastRelease).toBeCloseTo(found.lastRelease + start, 6);
      expect(reading.fit!.release).toBeCloseTo(found.fit!.release + start, 6);
      expect(reading.idle).toBeCloseTo(found.idle, 6);
      expect(reading.lowest).toBeCloseTo(found.lowest, 3);
      expect(reading.holdLoss).toBeCloseTo(found.holdLoss!, 3);
      expect(reading.keyOff).toBeCloseTo(truth.keyOff + start, 5);
      expect(reading.keyOffFound).toBe('marked');
    }
  });

  it('two presses marked are two presses', () => {
    const presses = found.presses.slice(0, 2);
    expect(marked({ presses }).presses).toHaveLength(2);
    expect(marked({ presses }).lastRelease).toBeCloseTo(presses[1]!, 6);
  });

  it('ends the idle plateau, at the first press at the latest', () => {
    const idleUntil = found.idleUntil - 2;
    expect(marked({ idleUntil }).idleUntil).toBeCloseTo(idleUntil, 6);
    expect(marked({ idleUntil: idleUntil + 3600 }, 3600).idleUntil).toBeCloseTo(
      idleUntil + 3600,
      6,
    );
    expect(marked({ idleUntil: found.idleUntil + 9 }).idleUntil).toBeCloseTo(found.idleUntil, 6);
  });
});

describe('refusals', () => {
  const level = (seconds: number, hertz: number, vacuum: (index: number) => number) =>
    Array.from({ length: seconds * hertz + 1 }, (_, index) => ({
      t: index / hertz,
      vacuum: vacuum(index),
    }));
  const ruleOf = (samples: readonly TraceSample[]) => {
    const result = analyseTrace(samples);
    if (result.ok) return null;
    // Each says in whole sentences what is wrong, and what to do about it.
    expect(result.error.message).toMatch(/^[A-Z].{20,}\.$/);
    expect(result.error.mend).toMatch(/^[A-Z].{20,}\.$/);
    return result.error.rule;
  };
  const random = randomFrom(8);

  it('names each reason', () => {
    expect(ruleOf([])).toBe('too short');
    expect(ruleOf([{ t: 0, vacuum: 90 }])).toBe('too short');
    expect(ruleOf(level(60, 10, () => Number.NaN))).toBe('not a number');
    expect(ruleOf(level(60, 10, () => 90).toReversed())).toBe('too short');
    expect(ruleOf(level(60, 10, () => 90).map((s, i) => (i === 50 ? { ...s, t: 1 } : s)))).toBe(
      'time not rising',
    );
    expect(ruleOf(level(60, 1, () => 90))).toBe('too slow');
    expect(ruleOf(level(60, 10, () => 90).filter(({ t }) => t < 20 || t > 25))).toBe('irregular');
    expect(ruleOf(level(60, 10, () => 13))).toBe('wrong unit');
    expect(ruleOf(level(60, 10, () => 130))).toBe('wrong unit');
    expect(ruleOf(level(60, 10, () => 90))).toBe('no presses');
    expect(ruleOf(level(60, 10, () => 90 + toKilopascals(0.3, 'psi') * random.normal()))).toBe(
      'too noisy',
    );
    expect(ruleOf(level(60, 20, () => 90 + toKilopascals(0.3, 'psi') * random.normal()))).toBe(
      'no presses',
    );
  });

  it('names the figure that is odd', () => {
    const messageOf = (vacuum: number, seconds = 60) => {
      const result = analyseTrace(level(seconds, 10, () => vacuum));
      return result.ok ? null : result.error.message;
    };
    expect(messageOf(130)).toContain('130.0 kPa');
    expect(messageOf(13)).toContain('13.0 kPa');
    expect(messageOf(90, 2)).toMatch(/lasts less than 15 s/);
    const seldom = analyseTrace(level(60, 2, () => 90));
    expect(!seldom.ok && seldom.error.message).toMatch(/logged 2\.0 samples .* at least 4\./);
    const noisy = level(60, 10, () => 90 + toKilopascals(0.4, 'psi') * random.normal());
    const refused = analyseTrace(noisy);
    expect(!refused.ok && refused.error.message).toMatch(/0\.[345]\d psi a sample/);
  });

  it('asks for idle before the first press', () => {
    const { samples, truth } = simulate(random, 10, 0.05, 0);
    const late = samples.filter(({ t }) => t > truth.presses[0]! - 1.5);
    expect(ruleOf(late)).toBe('no idle before the presses');
  });

  it('takes absolute pressure, which rises where vacuum falls, for no reading', () => {
    const { samples } = simulate(random, 10, 0.05, 0);
    const absolute = samples.map(({ t, vacuum }) => ({ t, vacuum: 115 - vacuum }));
    expect(ruleOf(absolute)).toBe('no fall');
  });

  it('never throws on whatever a file may hold', () => {
    const sample = fc.record({
      t: fc.double({ min: -10, max: 200 }),
      vacuum: fc.double({ min: -200, max: 200 }),
    });
    fc.assert(
      fc.property(fc.array(sample, { maxLength: 200 }), (samples) => {
        const result = analyseTrace(samples.toSorted((a, b) => a.t - b.t));
        if (!result.ok) expect(result.error.mend).not.toBe('');
      }),
    );
  });
});
