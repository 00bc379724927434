export interface SeededRandom {
  uniform(): number;
  normal(): number;
  /** Gamma variate of unit scale; 0 for a shape of 0. */
  gamma(shape: number): number;
}

/**
 * Random numbers that a seed repeats. Uniform: mulberry32, 32 bits, enough to invent fleets and no more.
 * Normal: Box and Muller (1958). Gamma: Marsaglia and Tsang (2000), raised by a power below shape 1.
 *
 * @example seededRandom(1).uniform() === seededRandom(1).uniform()
 */
export function seededRandom(seed: number): SeededRandom {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  const gamma = (shape: number): number => {
    if (shape <= 0) return 0;
    if (shape < 1) return gamma(shape + 1) * (1 - uniform()) ** (1 / shape);
    const d = shape - 1 / 3;
    const c = 1 / Math.sqrt(9 * d);
    for (;;) {
      const x = normal();
      const v = (1 + c * x) ** 3;
      if (v > 0 && Math.log(1 - uniform()) < 0.5 * x * x + d - d * v + d * Math.log(v))
        return d * v;
    }
  };
  return { uniform, normal, gamma };
}
