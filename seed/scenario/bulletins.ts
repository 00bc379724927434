import type { BulletinDraft } from '@/db/record/store-bulletin';
import { isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';

const source = 'Invented maker, demo only';

/** Notices of the invented makers, in the fleet's words. */
export const bulletins = (asOf: DayNumber): readonly BulletinDraft[] => [
  {
    number: 'SB-09',
    issue: '1',
    title: 'Check valve',
    issuedOn: isoFromDay(asOf - 900),
    kind: 'recommended',
    dueOn: null,
    rule: {
      anyOf: [{ make: ['Aldmoor'], model: ['S1'], built: { from: '2016-01', to: '2018-06' } }],
    },
    conditions: 'The check valve may stick in the cold and leak back.',
    actions: 'Fit the later check valve and grommet.',
    hours: 0.5,
    requiredParts: [{ part: 'check valve', revisions: [] }],
    source,
  },
  {
    number: 'SB-14',
    issue: '3',
    title: 'Pump seal',
    issuedOn: isoFromDay(asOf - 400),
    kind: 'mandatory',
    dueOn: isoFromDay(asOf + 60),
    rule: {
      anyOf: [
        {
          make: ['Corvane'],
          model: ['P2'],
          built: { from: '2019-03', to: '2020-02' },
          fitted: [{ part: 'pump', fact: 'revision', is: 'in', values: ['A', 'B'] }],
        },
      ],
    },
    conditions: 'The pump seal lets oil into the vacuum line.',
    actions: 'Fit pump revision C, clean or replace the line.',
    hours: 1.2,
    requiredParts: [{ part: 'pump', revisions: ['C'] }],
    source,
  },
  {
    number: 'SB-21',
    issue: '1',
    title: 'Belt tensioner',
    issuedOn: isoFromDay(asOf - 210),
    kind: 'recommended',
    dueOn: null,
    rule: {
      anyOf: [
        {
          make: ['Corvane'],
          fitted: [{ part: 'pump', fact: 'date code', is: 'up to', value: '2026' }],
        },
      ],
    },
    conditions: 'Early tensioner springs lose force.',
    actions: 'Look at the spring; replace it where the paint mark is white.',
    hours: 0.4,
    requiredParts: [],
    source,
  },
  {
    number: 'SB-24',
    issue: '1',
    title: 'Line clip',
    issuedOn: isoFromDay(asOf - 45),
    kind: 'information',
    dueOn: null,
    rule: {
      anyOf: [{ make: ['Aldmoor'], modelYear: { from: 2022, to: 2025 }, engine: ['2.9 turbo'] }],
    },
    conditions: 'The line clip can look seated when it is not.',
    actions: 'Tug it after every reading.',
    hours: 0,
    requiredParts: [],
    source,
  },
];
