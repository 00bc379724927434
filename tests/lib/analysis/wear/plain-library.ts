import type { FleetPrior } from '@/lib/analysis/fleet-prior';

/**
 * The library of wear curves as docs/method.md states it, every curve followed on its own from the
 * first visit, with no table and none let go: slow, and plain enough to check by eye.
 */
const from = (first: number, by: number, count: number) =>
  Array.from({ length: count }, (_, k) => first + k * by);
const onsets = [-2, -1, -0.5, ...from(0, 0.25, 25), 7, 8, 10, 12, 16];
const spans = [0.08, 0.5, 1, 1.6, 2.5, 4, 6.5, 11, 20];
const stepTimes = [...from(0.0625, 0.125, 48), 6.5, 7, 8, 10, 12, 16];
const sizes = [0.7, 1.5, 3, 5];

export interface PlainCurve {
  readonly loss: (years: number) => number;
  readonly begins: number;
  readonly weight: (prior: FleetPrior) => number;
  /** Its place in each of the prior's lists. */
  readonly onset: number | null;
  readonly bend: number | null;
  readonly size: number | null;
}

const smooth = onsets.flatMap((c, onset) =>
  spans.flatMap((A, span) =>
    [1, 2, 4].map((p, power): PlainCurve => {
      const bend = span * 3 + power;
      return {
        loss: (t) => Math.min(3 * ((Math.max(t - c, 0) / A) ** p - (Math.max(-c, 0) / A) ** p), 14),
        begins: c,
        weight: (prior) =>
          (1 - prior.stepShare) *
          prior.onset[onset]! *
          (c > 0 && prior.laterBend ? prior.laterBend : prior.bend)[bend]!,
        onset,
        bend,
        size: null,
      };
    }),
  ),
);

const steps = stepTimes.flatMap((c, k) => {
  const low = k === 0 ? 0 : (stepTimes[k - 1]! + c) / 2;
  const high = k === stepTimes.length - 1 ? 20 : (c + stepTimes[k + 1]!) / 2;
  return sizes.map(
    (s, size): PlainCurve => ({
      loss: (t) => (t >= c ? s : 0),
      begins: c,
      weight: (prior) => ((prior.stepShare * (high - low)) / 20) * prior.stepSize[size]!,
      onset: null,
      bend: null,
      size,
    }),
  );
});

export const plainCurves: readonly PlainCurve[] = [...smooth, ...steps];

export interface PlainState {
  q: number;
  m: number;
  V: number;
  /** Probability that each visit was sound, given the curve. */
  readonly sound: number[];
}

export interface PlainStep {
  readonly z: number;
  readonly readingInError: number;
  readonly logLikelihood: number;
}

/** Follows visits of `idle` psi at `years` since the first. */
export function followPlainly(
  prior: FleetPrior,
  visits: readonly { readonly years: number; readonly idle: number }[],
  startLevel = prior.startLevel,
) {
  const { noise, wearNoise, errorShare, errorSpread } = prior;
  const states = plainCurves.map(
    (curve): PlainState => ({
      q: curve.weight(prior),
      m: startLevel,
      V: prior.startDeviation ** 2,
      sound: [],
    }),
  );
  const said = visits.map(({ years, idle: y }): PlainStep => {
    let total = 0;
    let error = 0;
    let mean = 0;
    let square = 0;
    states.forEach((state, k) => {
      const { q, m, V } = state;
      const D = plainCurves[k]!.loss(years);
      const S = V + noise ** 2 + (wearNoise / 2) * Math.min(D, 6);
      const e = y - (m - D);
      const a = ((1 - errorShare) * Math.exp(-(e ** 2) / (2 * S))) / Math.sqrt(2 * Math.PI * S);
      const b = (errorShare * errorSpread) / (Math.PI * (errorSpread ** 2 + e ** 2));
      const r = a / (a + b);
      mean += q * (m - D);
      square += q * ((m - D) ** 2 + S);
      total += q * (a + b);
      error += q * b;
      state.q = q * (a + b);
      state.m = m + ((r * V) / S) * e;
      state.V = V - (r * V ** 2) / S;
      state.sound.push(r);
    });
    for (const state of states) state.q /= total;
    return {
      z: (y - mean) / Math.sqrt(square - mean ** 2),
      readingInError: error / total,
      logLikelihood: Math.log(total),
    };
  });
  return { states, said };
}

/** Chance that a standard normal variable lies below `x`, by Simpson’s rule on its density. */
export function normalBelowPlainly(x: number): number {
  if (x > 9) return 1;
  if (x < -9) return 0;
  const panels = 400;
  const width = x / panels;
  const density = (z: number) => Math.exp(-(z ** 2) / 2) / Math.sqrt(2 * Math.PI);
  let sum = density(0) + density(x);
  for (let k = 1; k < panels; k++) sum += density(k * width) * (k % 2 === 0 ? 2 : 4);
  return 0.5 + (sum * width) / 3;
}

/** The widest difference between two lists, place by place; NaN where either has one. */
export const widest = (values: ArrayLike<number>, others: ArrayLike<number>): number =>
  values.length === others.length
    ? Math.max(0, ...Array.from(values, (value, k) => Math.abs(value - others[k]!)))
    : Number.NaN;
