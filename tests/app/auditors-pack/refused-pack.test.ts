import { describe, expect, it } from 'vitest';
import {
  addressOfRefusal,
  halvesOf,
  problemsOfRefusal,
} from '@/app/(safety-officer)/auditors-pack/refused-pack';

const asked = (query: string) => new URLSearchParams(query);
const page = (query: string, ...refusal: [Parameters<typeof addressOfRefusal>[1]]) => {
  const [path, told = ''] = addressOfRefusal(asked(query), ...refusal).split('?');
  expect(path).toBe('/auditors-pack');
  return asked(told);
};

describe('a pack that is not made', () => {
  it('says that it is too long, what to do, and keeps what was asked', () => {
    const told = page('from=2025-01-01&to=2025-12-31&unit=&paper=A4', {
      is: 'too long',
      rows: 7_345,
    });
    expect(told.get('paper')).toBe('A4');
    expect(problemsOfRefusal(told)).toEqual([
      {
        field: 'from',
        message: 'This pack is too long: more than 6,000 rows, 7,345 counted so far.',
        mend: 'Choose a shorter period, or one unit, and make several packs.',
      },
    ]);
    expect(halvesOf(told).map(String)).toEqual([
      'paper=A4&from=2025-01-01&to=2025-07-02',
      'paper=A4&from=2025-07-03&to=2025-12-31',
    ]);
  });

  it('names an unknown unit', () => {
    const [problem] = problemsOfRefusal(page('unit=9999', { is: 'unknown unit' }));
    expect(problem).toMatchObject({ field: 'unit', message: 'No unit 9999 is on record.' });
  });

  it.each([
    ['', 'unit', 'Key a unit, or choose both days of a period.'],
    ['unit=-', 'unit', "Key the unit's number as on its tag."],
    ['unit=0001&from=soon', 'from', 'Choose a day.'],
    ['from=2025-02-01&to=2025-01-01', 'to', 'The period ends before it begins.'],
    ['unit=0001&paper=vellum', 'paper', 'Choose Letter or A4.'],
  ])('names the field to mend: %s', (query, field, mend) => {
    expect(problemsOfRefusal(page(query, null))).toMatchObject([{ field, mend }]);
  });

  it('shows nothing before a pack is asked for, and no count that is none', () => {
    expect(problemsOfRefusal(asked('unit=0001'))).toEqual([]);
    const [problem] = problemsOfRefusal(asked('unit=0001&refused=too+long&rows=%3Cb%3E'));
    expect(problem?.message).toBe('This pack is too long: more than 6,000 rows.');
  });

  it.each(['unit=0001', 'from=2025-01-01&to=2025-01-01', 'from=2025-01-02&to=2025-01-01'])(
    'has no halves without a period to halve: %s',
    (query) => expect(halvesOf(asked(query))).toEqual([]),
  );
});
