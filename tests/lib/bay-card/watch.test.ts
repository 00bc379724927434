import { describe, expect, it } from 'vitest';
import { elapsedSeconds, holdLeft, type Watch } from '@/lib/bay-card/watch';

const start = { origin: 1_000_000, monotonic: 1_000, wall: 1_001_000 };
const watch: Watch = { times: 'hold', start, wasHidden: false };

describe('a watch', () => {
  it('counts by the monotonic clock while the page is open, though the wall clock is set', () => {
    const now = { origin: 1_000_000, monotonic: 61_040, wall: 9_999_000 };
    // The bar: at most 0.1 s of error in 60 s.
    expect(Math.abs(elapsedSeconds(watch, now) - 60.04)).toBeLessThanOrEqual(0.1);
  });

  it('counts by the wall clock across a reload', () => {
    const now = { origin: 1_020_000, monotonic: 500, wall: 1_020_500 };
    expect(elapsedSeconds(watch, now)).toBeCloseTo(19.5, 9);
  });

  it('counts by the wall clock where the device slept and its own clock stood still', () => {
    const now = { origin: 1_000_000, monotonic: 3_000, wall: 1_041_000 };
    expect(elapsedSeconds({ ...watch, wasHidden: true }, now)).toBe(40);
  });

  it('never runs below nought, and the hold ends at 60 s', () => {
    const before = { origin: 2, monotonic: 0, wall: 0 };
    expect(elapsedSeconds(watch, before)).toBe(0);
    const at = (seconds: number) => ({ ...start, monotonic: 1_000 + seconds * 1000 });
    expect(holdLeft(watch, at(0))).toBe(60);
    expect(holdLeft(watch, at(59.2))).toBe(1);
    expect(holdLeft(watch, at(75))).toBe(0);
  });
});
