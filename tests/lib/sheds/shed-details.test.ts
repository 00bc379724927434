import { describe, expect, it } from 'vitest';
import { gaugeDetails, shedDetails } from '@/lib/sheds/shed-details';

const keyed = {
  shedId: 'ridge',
  name: 'Ridge shed',
  elevation: '7000',
  elevationUnit: 'ft',
  timeZone: 'America/Denver',
  pressureUnit: 'psi',
  distanceUnit: 'mi',
  bayHoursPerWeek: '12.5',
};
const issuesOf = (changed: Partial<Record<keyof typeof keyed, string>>) => {
  const parsed = shedDetails.safeParse({ ...keyed, ...changed });
  return parsed.success ? [] : parsed.error.issues.map(({ path }) => path[0]);
};

describe('a shed as keyed', () => {
  // NIST SP 811, appendix B.8: one international foot is 0.3048 m exactly.
  it('is kept in metres', () => {
    expect(shedDetails.parse(keyed)).toEqual({
      shedId: 'ridge',
      name: 'Ridge shed',
      elevationM: 2133.6,
      timeZone: 'America/Denver',
      pressureUnit: 'psi',
      distanceUnit: 'mi',
      bayHoursPerWeek: 12.5,
    });
    expect(shedDetails.parse({ ...keyed, elevationUnit: 'm', elevation: '-85' }).elevationM).toBe(
      -85,
    );
  });

  it.each([
    ['shedId', 'North Shed'],
    ['shedId', ''],
    ['name', ' '],
    ['name', 'Ridge\u202Eshed'],
    ['elevation', '7,000'],
    ['elevation', '20000'],
    ['elevation', 'NaN'],
    ['elevation', '--5'],
    ['elevation', '1e3'],
    ['elevationUnit', 'yd'],
    ['timeZone', 'Mountain'],
    ['timeZone', ''],
    ['pressureUnit', 'bar'],
    ['distanceUnit', 'nmi'],
    ['bayHoursPerWeek', '-1'],
    ['bayHoursPerWeek', '10001'],
  ] as const)('names %s where it is %j', (field, value) => {
    expect(issuesOf({ [field]: value })).toEqual([field]);
  });
});

describe('a gauge as keyed', () => {
  const gauge = {
    gaugeId: 'ridge-1',
    shedId: 'ridge',
    label: 'Dial 1',
    pressureUnit: 'inHg',
    isLogging: false,
    calibrationDueOn: '',
  };
  it('has a day of calibration or none', () => {
    expect(gaugeDetails.parse(gauge).calibrationDueOn).toBeNull();
    expect(gaugeDetails.parse({ ...gauge, calibrationDueOn: '2027-01-31' }).calibrationDueOn).toBe(
      '2027-01-31',
    );
    expect(gaugeDetails.safeParse({ ...gauge, calibrationDueOn: '2027-02-30' }).success).toBe(
      false,
    );
  });
});
