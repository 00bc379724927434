import type { gauge, jobTemplate, partStock, shedClosure } from '@/db/schema';
import { defaultLimits } from '@/lib/analysis/limits';
import { isoWeekOf } from '@/lib/calendar';
import { type DayNumber, newtonMetresPerPoundFoot } from '@/lib/measure';
import { sheds } from './places-and-people';

const { version: _, ...values } = defaultLimits;

export const firstLimits = {
  version: 1,
  values,
  effectiveFrom: '2015-01-01',
  source: 'Common practice of the trade; no published source for most values.',
  reason: 'First set of the fleet.',
  state: 'approved' as const,
  proposedBy: 'ines',
  decidedBy: 'rhea',
};

export const gauges = (calibrationDueOn: string): (typeof gauge.$inferInsert)[] =>
  sheds.flatMap(({ id, name, pressureUnit }) => [
    { id: `${id}-1`, shedId: id, label: `${name} dial gauge 1`, pressureUnit, calibrationDueOn },
    {
      id: `${id}-2`,
      shedId: id,
      label: `${name} logging gauge`,
      pressureUnit,
      isLogging: true,
      calibrationDueOn,
    },
  ]);

export const closures = (from: DayNumber): (typeof shedClosure.$inferInsert)[] => [
  { shedId: 'river', week: isoWeekOf(from + 28), hoursLost: 12, reason: 'Lift inspection' },
  ...sheds.map(({ id, bayHoursPerWeek }) => ({
    shedId: id,
    week: isoWeekOf(from + 35),
    hoursLost: bayHoursPerWeek / 2,
    reason: 'Holidays',
  })),
];

export const stock: (typeof partStock.$inferInsert)[] = [
  {
    partNumber: 'VP-210',
    revision: 'B',
    part: 'pump',
    description: 'Vacuum pump kit, gasket and bolts',
    supersededBy: 'C',
    inStock: 1,
    leadTimeDays: 28,
    price: 240,
  },
  {
    partNumber: 'VP-210',
    revision: 'C',
    part: 'pump',
    description: 'Vacuum pump kit, gasket and bolts, later shape',
    inStock: 3,
    leadTimeDays: 21,
    price: 265,
  },
  {
    partNumber: 'PB-6-1210',
    revision: 'B5',
    part: 'belt',
    description: 'Stretch-fit pump belt, 6 ribs',
    inStock: 9,
    leadTimeDays: 7,
    price: 31,
  },
  {
    partNumber: 'BB-90',
    revision: 'A',
    part: 'booster',
    description: 'Brake booster',
    inStock: 0,
    leadTimeDays: 35,
    price: 310,
  },
  {
    partNumber: 'VL-44',
    revision: 'A',
    part: 'line',
    description: 'Vacuum line with clip',
    inStock: 4,
    leadTimeDays: 14,
    price: 58,
  },
  {
    partNumber: 'CV-07',
    revision: 'A',
    part: 'check valve',
    description: 'Check valve and grommet',
    inStock: 6,
    leadTimeDays: 10,
    price: 19,
  },
];

const chocks = {
  text: 'Chock the wheels, set the park brake, engine off and cold enough to touch.',
  caution: 'Keep clear of belts and fan whenever the engine runs.',
};
const refit = {
  text: 'Refit the line, seat the clip and tug it; connectors and harness clips in; heat shield back over the connector beside the exhaust manifold.',
};

export const templates: (typeof jobTemplate.$inferInsert)[] = [
  {
    kind: 'pump',
    title: 'Replace the vacuum pump',
    hours: 2.2,
    tools: ['Torque wrench', 'Belt fitting tool', 'Drain tray', 'Gauge and tee'],
    partNumbers: ['VP-210'],
    torqueNm: 18 * newtonMetresPerPoundFoot,
    steps: [
      chocks,
      { text: 'Let the exhaust cool.', caution: 'The manifold beside the pump burns skin.' },
      { text: 'Take the line and connectors off the pump, then the belt.' },
      {
        text: 'Undo two front and two rear bolts; lift the pump out and look for oil at its outlet.',
      },
      { text: 'Clean the face, fit the new gasket and pump. A later revision may look different.' },
      {
        text: 'Tighten the four bolts.',
        value: '18 lb-ft (24.4 N·m); service information in force prevails',
      },
      refit,
    ],
  },
  {
    kind: 'belt',
    title: 'Replace the pump belt',
    hours: 0.8,
    tools: ['Belt fitting tool', 'Side cutters'],
    partNumbers: ['PB-6-1210'],
    steps: [
      chocks,
      {
        text: 'Cut the old stretch-fit belt off. Over the distance in the limits it is not used again.',
      },
      { text: 'Clean the pulleys and look at their grooves.' },
      {
        text: 'Roll the new belt on with the fitting tool; turn the engine by hand twice and look again.',
      },
    ],
  },
  {
    kind: 'booster and line',
    title: 'Replace booster and vacuum line',
    hours: 3.4,
    tools: ['Brake fluid', 'Flare wrench', 'Gauge and tee'],
    partNumbers: ['BB-90', 'VL-44'],
    steps: [
      chocks,
      { text: 'Oil at the booster: replace pump, booster and line together.' },
      {
        text: 'Replace the booster by the service information in force.',
        caution: 'Work on the foundation brakes is for a licensed technician.',
      },
      refit,
    ],
  },
  {
    kind: 'line',
    title: 'Replace the vacuum line',
    hours: 0.9,
    tools: ['Trim tool'],
    partNumbers: ['VL-44'],
    steps: [chocks, refit],
  },
  {
    kind: 'check valve',
    title: 'Replace check valve and grommet',
    hours: 0.5,
    tools: ['Trim tool'],
    partNumbers: ['CV-07'],
    steps: [
      chocks,
      { text: 'Pull the valve straight out, fit grommet and valve with a drop of water.' },
      refit,
    ],
  },
  {
    kind: 'leak search',
    title: 'Find the leak on the booster side',
    hours: 1,
    tools: ['Gauge and tee', 'Hand vacuum pump'],
    partNumbers: [],
    steps: [
      chocks,
      {
        text: 'Gauge on the booster side of the check valve; draw down by hand and pinch part by part.',
      },
      { text: 'Listen at valve, grommet, line and diaphragm.' },
    ],
  },
  {
    kind: 'bulletin',
    title: 'Service bulletin',
    hours: 1,
    tools: [],
    partNumbers: [],
    steps: [chocks, { text: 'Follow the bulletin.' }],
  },
  {
    kind: 'reading',
    title: 'Quarterly reading',
    hours: 0.25,
    tools: ['Gauge and tee', 'Clean rag'],
    partNumbers: [],
    steps: [{ text: 'Take the reading with the bay card.' }],
  },
  {
    kind: 'proof',
    title: 'Proof reading',
    hours: 0.25,
    tools: ['Gauge and tee', 'Clean rag'],
    partNumbers: [],
    steps: [{ text: 'Take the whole reading again with the bay card, as proof.' }],
  },
];
