import { describe, expect, it } from 'vitest';
import { ambientPressureAt, seaLevelEquivalent, seaLevelPressure } from '@/lib/atmosphere';
import {
  fromKilopascals,
  kilopascalsPerUnit,
  newtonMetresPerPoundFoot,
  type PressureUnit,
  toKilometres,
  toKilopascals,
} from '@/lib/measure';
import { exponentialApproach } from '@/lib/statistics';
import { expectWithin, figuresOf, tableOf } from './figures';

const metresPerFoot = 0.3048;
const earthRadius = 6_356_766;

describe('units against NIST SP 811 (2008), appendix B', () => {
  const units = figuresOf<{ Pa_per: Record<string, number>; N_m_per_lbf_ft: number }>('units.json');

  it('pressure', () => {
    expectWithin(kilopascalsPerUnit.inHg * 1000, units.Pa_per.inHg_conventional!, 1e-7);
    expectWithin(kilopascalsPerUnit.psi * 1000, units.Pa_per.psi!, 1e-7);
    expectWithin(seaLevelPressure * 1000, units.Pa_per.atm!, 1e-15);
  });

  it('torque and distance', () => {
    expectWithin(newtonMetresPerPoundFoot, units.N_m_per_lbf_ft, 1e-6);
    expectWithin(18 * newtonMetresPerPoundFoot, 24.4047, 1e-5);
    expectWithin(toKilometres(50_000, 'mi'), 80_467.2, 1e-15);
  });

  // The low-vacuum warning of California Vehicle Code 26521 and Missouri 11 CSR 50-2.170.
  it('8 inHg is 27.09 kPa, 203.2 mmHg, 3.929 psi', () => {
    const threshold = toKilopascals(8, 'inHg');
    expect(threshold.toFixed(2)).toBe('27.09');
    expectWithin(threshold, 27.091112, 1e-9);
    expectWithin((threshold * 1000) / units.Pa_per.mmHg_conventional!, 203.2, 2e-7);
    expect(fromKilopascals(threshold, 'psi').toFixed(3)).toBe('3.929');
  });

  it.each<[number, PressureUnit, number]>([
    [20, 'inHg', 67.72778],
    [15, 'inHg', 50.795835],
    [29.92, 'inHg', 101.32075888],
  ])('%d %s', (value, unit, kilopascals) => {
    expectWithin(toKilopascals(value, unit), kilopascals, 1e-9);
    expectWithin(fromKilopascals(kilopascals, unit), value, 1e-9);
  });
});

describe('standard atmosphere', () => {
  it.each(tableOf('atmosphere.csv').filter((row) => row.altitude_kind === 'geopotential'))(
    'US Standard Atmosphere 1976: $altitude $unit',
    (row) => {
      const pressure = ambientPressureAt(Number(row.geopotential_m));
      expectWithin(pressure * 10, Number(row.hPa), 1e-7);
      expectWithin(fromKilopascals(pressure, 'inHg'), Number(row.inHg), 3e-7);
      expectWithin(fromKilopascals(pressure, 'psi'), Number(row.psi), 7e-7);
    },
  );

  it.each(tableOf('atmosphere.csv').filter((row) => row.altitude_kind === 'geometric'))(
    'geometric height taken for geopotential: $altitude $unit',
    (row) => {
      const height = Number(row.altitude) * (row.unit === 'ft' ? metresPerFoot : 1);
      expectWithin(
        (earthRadius * height) / (earthRadius + height),
        Number(row.geopotential_m),
        1e-5,
      );
      // What the simplification costs: under 0.02% of the pressure up to 10,000 ft.
      expectWithin(ambientPressureAt(height) * 10, Number(row.hPa), 2e-4);
    },
  );

  // Published spot values: inHg at 2, 4, 6, 8, 10 thousand ft; feet at 850, 700, 500 mb.
  it.each([
    [2000, 27.82],
    [4000, 25.84],
    [6000, 23.98],
    [8000, 22.22],
    [10_000, 20.57],
  ])('%d ft is %d inHg', (feet, inHg) => {
    const pressure = fromKilopascals(ambientPressureAt(feet * metresPerFoot), 'inHg');
    expect(Math.abs(pressure - inHg)).toBeLessThanOrEqual(0.01);
  });

  it.each([
    [4780, 85],
    [9882, 70],
    [18_287, 50],
  ])('%d ft is %d kPa', (feet, kilopascals) => {
    const atTwoFeetEitherSide = [feet - 2, feet + 2].map((at) =>
      ambientPressureAt(at * metresPerFoot),
    );
    expect(atTwoFeetEitherSide[0]).toBeGreaterThan(kilopascals);
    expect(atTwoFeetEitherSide[1]).toBeLessThan(kilopascals);
  });
});

describe('a displacement pump keeps the ratio of pressures', () => {
  const physics = figuresOf<{
    altitude_pump: Record<string, number>[];
    clearance: Record<string, number>;
  }>('vacuum_physics.json');

  // Vacuum and Pressure Systems Handbook, section 4: 24 inHg at 29.92 becomes 17.6 at 22.
  it('handbook: 24 inHg at sea level', () => {
    const { sea_level_inHg, baro0, baro, expected } = physics.altitude_pump[0]!;
    expectWithin((sea_level_inHg! / baro0!) * baro!, expected!, 1e-12);
    const equivalent = seaLevelEquivalent(expected!, baro!);
    expectWithin(equivalent / seaLevelPressure, sea_level_inHg! / baro0!, 1e-12);
  });

  // Engineering note on altitude correction, in inHg: barometer 21.7, vacuum 15.
  it('note: 15 inHg under a barometer of 21.7', () => {
    const { baro, vacuum, equivalent_sea_level_vacuum } = physics.altitude_pump[1]!;
    const seaLevel = fromKilopascals(
      seaLevelEquivalent(toKilopascals(vacuum!, 'inHg'), toKilopascals(baro!, 'inHg')),
      'inHg',
    );
    // The note takes 29.92 inHg for sea level, 101.3208 kPa, where the atmosphere has 101.325.
    expectWithin(seaLevel, equivalent_sea_level_vacuum!, 5e-5);
  });

  // Volumetric efficiency 1 + c - c (p2/p1)^(1/n) = 0 with n = 1 (textbook, from memory).
  it('clearance volume: the same share of ambient at any height', () => {
    const { c, vacuum_inHg, at_5000ft_vacuum_inHg } = physics.clearance;
    const atHeight = (ambient: number) => ambient - (ambient * c!) / (1 + c!);
    const low = atHeight(seaLevelPressure);
    const high = atHeight(ambientPressureAt(5000 * metresPerFoot));
    expectWithin(fromKilopascals(low, 'inHg'), vacuum_inHg!, 1e-7);
    expectWithin(fromKilopascals(high, 'inHg'), at_5000ft_vacuum_inHg!, 1e-4);
    const ambient = ambientPressureAt(5000 * metresPerFoot);
    expectWithin(seaLevelEquivalent(high, ambient), low, 1e-12);
  });
});

// Closed forms of a volume V pumped at a constant speed S: p = floor + (start - floor) exp(-S t / V);
// the pump-down example is a published vacuum guide's, t = (V/S) ln(p0/p1).
describe('recovery of a reservoir is an exponential approach', () => {
  const { pump_down: cases } = figuresOf<{ pump_down: Record<string, number>[] }>(
    'vacuum_physics.json',
  );
  const times = Array.from({ length: 40 }, (_, i) => i / 2);
  const fitted = (floor: number, start: number, timeConstant: number) =>
    exponentialApproach(
      times,
      times.map((t) => floor + (start - floor) * Math.exp(-t / timeConstant)),
    );

  it('finds the pumping speed of the guide', () => {
    const { V, t_min, p0, p1, S } = cases[0]!;
    const curve = fitted(0, p0!, t_min! / Math.log(p0! / p1!));
    expectWithin(V! / curve.timeConstant!, S!, 1e-7);
  });

  it('meets the pressure after 8 s', () => {
    const { V_l, S_l_s, p0_kPa, pe_kPa, t_s, p_kPa } = cases[1]!;
    const curve = fitted(pe_kPa!, p0_kPa!, V_l! / S_l_s!);
    const after = curve.end! - curve.drop! * Math.exp(-t_s! / curve.timeConstant!);
    expectWithin(after, p_kPa!, 1e-9);
  });

  it('settles higher with a leak, no slower', () => {
    const { S_l_s, Q_kPa_l_s, pe_kPa, pe_eff_kPa } = cases[2]!;
    const curve = fitted(pe_kPa! + Q_kPa_l_s! / S_l_s!, seaLevelPressure, 4 / S_l_s!);
    expectWithin(curve.end, pe_eff_kPa!, 1e-9);
    expectWithin(curve.timeConstant, 8, 1e-9);
  });
});
