import { describe, expect, it } from 'vitest';
import { burst, WriteRate } from '@/app/_write-rate';

const takeMany = (rate: WriteRate, key: string, times: number, now: number) =>
  Array.from({ length: times }, () => rate.take(key, now)).filter((wait) => wait === 0).length;

describe('the rate of writes', () => {
  it('lets a whole outbox of 200 readings through at once', () => {
    expect(takeMany(new WriteRate(), 'a', 200, 0)).toBe(200);
  });

  it('asks who goes on and on to wait, and takes them up again as time passes', () => {
    const rate = new WriteRate();
    expect(takeMany(rate, 'a', 1_000, 0)).toBe(burst);
    expect(rate.take('a', 0)).toBeGreaterThan(0);
    expect(takeMany(rate, 'a', 1_000, 2_000)).toBe(20);
    expect(takeMany(rate, 'a', 1_000, 3_600_000)).toBe(burst);
  });

  it('counts each session apart', () => {
    const rate = new WriteRate();
    takeMany(rate, 'a', 1_000, 0);
    expect(rate.take('b', 0)).toBe(0);
  });

  it('forgets the session unused longest when there are very many, never the busy one', () => {
    const rate = new WriteRate();
    takeMany(rate, 'busy', 1_000, 0);
    for (let k = 0; k < 20_000; k++) {
      rate.take(`s${k}`, 0);
      if (k % 5_000 === 0) expect(rate.take('busy', 0)).toBeGreaterThan(0);
    }
    expect(rate.take('s19999', 0)).toBe(0);
  });
});
