import { describe, expect, it } from 'vitest';
import { findPresses, typicalFall } from '@/lib/analysis/trace-presses';
import type { ScreenedTrace } from '@/lib/analysis/trace-screen';

/** 85 kPa, and `fall` less from each of these samples on; ten samples a second. */
const stepped = (at: readonly number[], fall = 5, noise = 0): ScreenedTrace => {
  const times = Array.from({ length: 1200 }, (_, k) => k / 10);
  return {
    times,
    vacuum: times.map((_, k) => 85 - fall * at.filter((step) => k >= step).length),
    ...{ interval: 0.1, sampleRate: 10, noise },
  };
};
const found = (at: readonly number[], fall?: number) =>
  findPresses(stepped(at, fall)).map((press) => press.at);

describe('findPresses', () => {
  it('finds steps where they are, and how far vacuum fell', () => {
    const presses = findPresses(stepped([100, 130, 160, 190]));
    expect(presses.map(({ at }) => at)).toEqual([100, 130, 160, 190]);
    for (const { fall } of presses) expect(fall).toBeCloseTo(5, 9);
    expect(typicalFall(presses)).toBeCloseTo(5, 9);
    expect(typicalFall([])).toBe(0);
    expect(found([])).toEqual([]);
  });

  it('takes the first cluster of three for the test, presses 6 s apart for one cluster', () => {
    expect(found([100, 500, 530, 560, 900, 930, 960, 990])).toEqual([500, 530, 560]);
    expect(found([100, 160, 220])).toEqual([100, 160, 220]);
    expect(found([100, 161, 222])).toEqual([100]);
  });

  it('without three together, takes the largest cluster, the first of equals', () => {
    expect(found([100, 500, 530])).toEqual([500, 530]);
    expect(found([100, 130, 500])).toEqual([100, 130]);
    expect(found([100, 130, 500, 530])).toEqual([100, 130]);
  });

  it('passes over less than a quarter of a psi, and what 4.5 deviations of noise may be', () => {
    expect(found([100, 130, 160], 1.73)).toHaveLength(3);
    expect(found([100, 130, 160], 1.72)).toEqual([]);
    // Means of six samples each: a difference has the deviation of a sample times root(2 / 6).
    const noise = 5 / (4.5 * Math.sqrt(1 / 3));
    expect(findPresses(stepped([100, 130, 160], 5, noise * 0.99))).toHaveLength(3);
    expect(findPresses(stepped([100, 130, 160], 5, noise * 1.01))).toEqual([]);
    const again = (share: number) =>
      findPresses(stepped([100, 130, 160], 5, share * noise), undefined, 5);
    expect(again(1.24)).toHaveLength(3);
    expect(again(1.26)).toEqual([]);
  });

  it('asks each to fall two fifths of the usual, and adds what the pump restored meanwhile', () => {
    const presses = (usual: number, restored = 0) =>
      findPresses(stepped([100, 130, 160]), () => restored, usual);
    expect(presses(12.4)).toHaveLength(3);
    expect(presses(12.6)).toEqual([]);
    expect(presses(12.6, 1)[0]!.fall).toBeCloseTo(6, 9);
  });

  it('tells no press at the very ends of the log', () => {
    expect(found([3, 130, 160, 190, 1197])).toEqual([130, 160, 190]);
    expect(found([6])).toEqual([6]);
    expect(found([1194])).toEqual([1194]);
  });
});
