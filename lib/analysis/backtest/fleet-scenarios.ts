/**
 * Fleets with known truth for the wear forecast, other than the one it was designed on. All figures
 * are assumptions; psi and days. A segment starts at a level, is stable or wears (evenly, by a power,
 * exponentially, or all at once), and is read about every quarter until some time after it passes
 * 10 psi. Wear can come in gamma-distributed jumps instead of smoothly.
 */
export interface Scenario {
  readonly name: string;
  readonly units: number;
  /** Shares of the modes; what is left is stable. */
  readonly even: number;
  readonly accelerating: number;
  readonly sudden: number;
  readonly shape: 'power' | 'exponential';
  /** Mean size of one jump of wear, psi; 0 wears smoothly. */
  readonly jump: number;
  readonly noise: number;
  readonly errorShare: number;
  readonly startLevel: number;
  readonly startDeviation: number;
  /** Mean days between readings, and the share of readings left out. */
  readonly interval: number;
  readonly missed: number;
  readonly lowestNoise: number;
}

const base: Scenario = {
  name: 'A base',
  units: 300,
  even: 0.18,
  accelerating: 0.28,
  sudden: 0.08,
  shape: 'power',
  jump: 0.05,
  noise: 0.28,
  errorShare: 0.03,
  startLevel: 13.1,
  startDeviation: 0.43,
  interval: 95,
  missed: 0.08,
  lowestNoise: 0.3,
};
const exponential: Scenario = {
  ...base,
  name: 'B exponential, wear in jumps',
  shape: 'exponential',
  jump: 0.15,
};

export const scenarios: Readonly<Record<string, Scenario>> = {
  A: base,
  B: exponential,
  C: { ...base, name: 'C noise 0.35, 6% errors', noise: 0.35, errorShare: 0.06 },
  D: { ...base, name: 'D 85% stable', even: 0.05, accelerating: 0.08, sudden: 0.02 },
  E: { ...base, name: 'E read half as often', interval: 182, missed: 0.15 },
  F: {
    ...exponential,
    name: 'F as B, noise 0.32, 5% errors, 85% stable',
    noise: 0.32,
    errorShare: 0.05,
    even: 0.05,
    accelerating: 0.08,
    sudden: 0.02,
  },
  G: { ...base, name: 'G uneven start', startLevel: 12.6, startDeviation: 0.8, even: 0.3 },
  H: { ...exponential, name: 'H as B, noise 0.4, 5% errors', noise: 0.4, errorShare: 0.05 },
};
