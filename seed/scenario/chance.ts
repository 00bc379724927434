/** A seeded stream of chance: the same seed tells the same story on every machine. */
export interface Chance {
  uniform(): number;
  between(low: number, high: number): number;
  normal(mean: number, deviation: number): number;
  pick<Item>(items: readonly Item[]): Item;
  happens(probability: number): boolean;
}

export function chance(seed: number): Chance {
  let state = seed >>> 0;
  const uniform = () => {
    state = (state + 0x9e3779b9) >>> 0;
    let mixed = state ^ (state >>> 16);
    mixed = Math.imul(mixed, 0x21f0aaad);
    mixed ^= mixed >>> 15;
    mixed = Math.imul(mixed, 0x735a2d97);
    mixed ^= mixed >>> 15;
    return (mixed >>> 0) / 4_294_967_296;
  };
  return {
    uniform,
    between: (low, high) => low + (high - low) * uniform(),
    normal: (mean, deviation) =>
      mean +
      deviation * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
    pick: (items) => {
      const item = items[Math.floor(uniform() * items.length)];
      if (item === undefined) throw new RangeError('nothing to pick from');
      return item;
    },
    happens: (probability) => uniform() < probability,
  };
}
