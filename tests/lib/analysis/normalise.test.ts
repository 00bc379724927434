import { describe, expect, it } from 'vitest';
import { holdLossOf, lossOver } from '@/lib/analysis/hold-loss';
import { defaultLimits } from '@/lib/analysis/limits';
import { ambientOf, normalise } from '@/lib/analysis/normalise';
import { fromKilopascals, toKilopascals } from '@/lib/measure';
import { psi, readingOn } from '../../support/a-unit';

const soundly = (change: Parameters<typeof readingOn>[1], elevation = 0) => {
  const normalised = normalise(readingOn(20_000, change), elevation);
  if (!normalised.isSound) throw new Error(normalised.why);
  return normalised.reading;
};

describe('ambient pressure', () => {
  it('is the barometer near the standard value, and the standard value otherwise', () => {
    // US Standard Atmosphere 1976: 1,500 m 845.56 hPa; 1,000 m 898.75 hPa.
    expect(ambientOf(null, 1500)).toBeCloseTo(84.556, 3);
    expect(ambientOf(85.2, 1500)).toBe(85.2);
    expect(ambientOf(101.3, 1500)).toBeCloseTo(84.556, 3);
    expect(ambientOf(101.3, 1600)).toBeCloseTo(83.5, 1);
    expect(ambientOf(Number.NaN, 1000)).toBeCloseTo(89.875, 3);
  });

  // Manifold pressure ratio of a published altitude example: vacuum 15 inHg at barometer 21.7 inHg is
  // 20.682 inHg at 29.92 (ratio 3.2388).
  it('gives the published sea-level equivalent', () => {
    const inHg = (value: number) => toKilopascals(value, 'inHg');
    const { idleSle } = soundly({ idle: inHg(15), lowest: null, barometer: inHg(21.7) }, 2640);
    expect(fromKilopascals(idleSle ?? 0, 'inHg')).toBeCloseTo(20.682, 2);
  });

  it('takes the elevation of the shed where it was read', () => {
    const { ambient } = soundly({
      idle: psi(10),
      lowest: psi(8),
      barometer: null,
      elevation: 1500,
    });
    expect(ambient).toBeCloseTo(84.556, 3);
  });

  it('keeps the example of its text', () => {
    expect(soundly({ idle: 77.2, barometer: 89.9 }, 1000).idleSle).toBeCloseTo(87, 1);
  });

  it('changes nothing at sea level, to the last bit', () => {
    expect(soundly({ idle: psi(10), lowest: psi(8) }).lowestSle).toBe(psi(8));
  });
});

describe('what cannot be true', () => {
  it.each<[string, Parameters<typeof readingOn>[1]]>([
    ['more vacuum than the air there can give', { idle: psi(14.6) }],
    ['more vacuum than the air there can give', { idle: 0.986 * 101.325, lowest: null }],
    ['lowest above idle', { idle: psi(9), lowest: psi(9.2) }],
    ['idle is no measurement', { idle: Number.NaN }],
    ['recovery is no measurement', { recovery: -1 }],
    ['holdLoss is no measurement', { holdLoss: Number.POSITIVE_INFINITY }],
  ])('%s', (why, change) => {
    expect(normalise(readingOn(20_000, change), 0)).toEqual({ isSound: false, why });
  });
});

describe('holds', () => {
  const from = psi(12.3);
  const loss = (held: number, value: number) =>
    holdLossOf({ loss: psi(value), held, from }, defaultLimits);

  it('convert by the rate of an exponential decay', () => {
    // 12.3 psi losing 0.8 psi in 300 s: v = 12.3 e^(-t/4460); after 60 s 0.1644 psi (by hand).
    expect(fromKilopascals(lossOver(60, { loss: psi(0.8), held: 300, from }), 'psi')).toBeCloseTo(
      0.1644,
      3,
    );
    const there = lossOver(300, { loss: psi(0.5), held: 60, from });
    expect(lossOver(60, { loss: there, held: 300, from })).toBeCloseTo(psi(0.5), 10);
    expect(lossOver(300, { loss: from, held: 60, from })).toBeCloseTo(from, 10);
    expect(lossOver(300, { loss: 1, held: 60, from: null })).toBe(5);
    expect(lossOver(300, { loss: 5, held: 60, from: 85 })).toBeCloseTo(22.2, 1);
  });

  it('stand as measured at 60 s and at 5 minutes', () => {
    expect(loss(60, 0.6)).toMatchObject({ loss: psi(0.6), standard: 60, isBlind: false });
    expect(loss(300, 0.6)).toMatchObject({ loss: psi(0.6), standard: 300, isBlind: false });
    expect(loss(120, 0.6)?.standard).toBe(60);
    expect(loss(180, 0.6)?.standard).toBe(300);
  });

  it('are blind below 45 s, and say nothing without a time', () => {
    expect(loss(44, 0.1)?.isBlind).toBe(true);
    expect(loss(45, 0.1)?.isBlind).toBe(false);
    expect(holdLossOf({ loss: 1, held: null, from }, defaultLimits)).toBeNull();
    expect(holdLossOf({ loss: null, held: 60, from }, defaultLimits)).toBeNull();
  });
});
