import { shortestHold } from '@/lib/analysis/hold-loss';
import { barometerTolerance } from '@/lib/analysis/normalise';
import { odometerRollovers } from '@/lib/analysis/odometer';
import type { DraftReading, PlausibilityContext } from '@/lib/analysis/plausibility';
import { formatPressure, type Kilopascals, type Seconds, toKilometres } from '@/lib/measure';

/** Asked before recording. The id is what a person confirms; `choices` are the answers offered. */
export interface Question {
  readonly id: string;
  readonly field: string;
  readonly message: string;
  readonly choices: readonly string[];
}

const usualRecovery: Seconds = 60;
const mostDistanceADay = toKilometres(400, 'mi');

/** A sea-level-corrected barometer costs 1 psi at 700 m and 2.3 psi at 1,600 m. */
export const askAboutBarometer = (
  { barometer }: Pick<DraftReading, 'barometer'>,
  standard: Kilopascals,
): readonly Question[] =>
  barometer === null || Math.abs(barometer - standard) <= barometerTolerance
    ? []
    : [
        {
          id: 'barometer',
          field: 'barometer',
          message: `Station pressure at this elevation is near ${formatPressure(standard, 'kPa')}. Is ${formatPressure(barometer, 'kPa')} corrected to sea level? It will not be used.`,
          choices: ['leave it out', 'key it again'],
        },
      ];

export const askAboutRecovery = ({
  recovery,
}: Pick<DraftReading, 'recovery'>): readonly Question[] =>
  recovery === null || recovery <= usualRecovery
    ? []
    : [
        {
          id: 'recovery',
          field: 'recovery',
          message: `Recovery of ${recovery.toFixed(0)} s is long. Is it seconds?`,
          choices: ['it is', 'time it again'],
        },
      ];

/** A hold too short to see a leak, or of unknown length, counts for nothing unless it shows one. */
export function askAboutHold({
  holdTime,
  holdLoss,
}: Pick<DraftReading, 'holdTime' | 'holdLoss'>): readonly Question[] {
  if (holdLoss === null || (holdTime !== null && holdTime >= shortestHold)) return [];
  return [
    {
      id: 'hold time',
      field: 'holdTime',
      message:
        holdTime === null
          ? 'A loss without the time it took says nothing. Key the time held.'
          : `A hold of ${holdTime.toFixed(0)} s sees no leak. Hold 60 s.`,
      choices: ['hold again', 'keep it'],
    },
  ];
}

/** Backwards, or further than 400 miles a day: a new cluster, a rollover, or one of the two is wrong. */
export function askAboutOdometer(
  { odometer, readOn }: Pick<DraftReading, 'odometer' | 'readOn'>,
  { lastOdometer }: Pick<PlausibilityContext, 'lastOdometer'>,
): readonly Question[] {
  if (odometer === null || lastOdometer === null || readOn < lastOdometer.on) return [];
  const gone = odometer - lastOdometer.odometer;
  const most = mostDistanceADay * Math.max(1, readOn - lastOdometer.on);
  if (gone >= 0 && gone <= most) return [];
  const hasRolledOver = odometerRollovers.some((full) => gone + full >= 0 && gone + full <= most);
  return [
    {
      id: 'odometer',
      field: 'odometer',
      message:
        gone < 0
          ? 'The odometer is lower than last time.'
          : 'That is more than 400 miles a day since last time.',
      choices: [
        ...(hasRolledOver ? ['it rolled over'] : []),
        ...(gone < 0 ? ['new cluster'] : []),
        'last one was wrong',
        'key it again',
      ],
    },
  ];
}
