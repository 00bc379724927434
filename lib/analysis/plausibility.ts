import {
  barometerTolerance,
  isLowestAboveIdle,
  mostShareOfAmbient,
} from '@/lib/analysis/normalise';
import {
  askAboutBarometer,
  askAboutHold,
  askAboutOdometer,
  askAboutRecovery,
  type Question,
} from '@/lib/analysis/plausibility-questions';
import { likelyUnit, suspectedUnit } from '@/lib/analysis/suspected-unit';
import { ambientPressureAt } from '@/lib/atmosphere';
import {
  type DayNumber,
  formatPressure,
  type Kilometres,
  type Kilopascals,
  type Metres,
  type PressureUnit,
  type Seconds,
} from '@/lib/measure';
import type { Problem } from '@/lib/result';

export type { Question } from '@/lib/analysis/plausibility-questions';

/** A reading not yet recorded, in SI, with the unit that the pressures were keyed in. */
export interface DraftReading {
  readonly readOn: DayNumber;
  readonly idle: Kilopascals | null;
  readonly raised: Kilopascals | null;
  readonly lowest: Kilopascals | null;
  readonly recovery: Seconds | null;
  readonly holdLoss: Kilopascals | null;
  readonly holdTime: Seconds | null;
  readonly barometer: Kilopascals | null;
  readonly odometer: Kilometres | null;
  readonly keyedIn: PressureUnit;
}

/** What the record knows beforehand; null where it knows nothing. */
export interface PlausibilityContext {
  readonly elevation: Metres;
  /** Level of the unit, SLE, from its newest verdict. */
  readonly expectedIdleSle: Kilopascals | null;
  readonly lastOdometer: { readonly on: DayNumber; readonly odometer: Kilometres } | null;
}

export interface Plausibility {
  /** The reading cannot be true as keyed and is not recorded. */
  readonly problems: readonly Problem[];
  /** It could be true, and is recorded once a person has said so. */
  readonly questions: readonly Question[];
}

const vacuums = ['idle', 'raised', 'lowest', 'holdLoss'] as const;
const longestRecovery: Seconds = 600;
const longestHold: Seconds = 3600;
/** Lowest and highest station pressure of any road. */
const leastBarometer: Kilopascals = 45;
const mostBarometer: Kilopascals = 110;

/**
 * What cannot be true of a reading, and what should be asked before it goes on record: the one check
 * for bay card, form, import and route. Ambient pressure is the standard atmosphere at the shed's
 * elevation, or a barometer within 5 kPa of it. Nothing is ever converted silently.
 * Source: own choices; common practice, no published source.
 *
 * @example an idle of 25.5 keyed as psi at sea level is refused, and `inHg` is offered
 */
export function checkPlausibility(draft: DraftReading, context: PlausibilityContext): Plausibility {
  const standard = ambientPressureAt(context.elevation);
  const { barometer } = draft;
  const isBarometerNear =
    barometer !== null && Math.abs(barometer - standard) <= barometerTolerance;
  const ambient = isBarometerNear ? barometer : standard;
  const problems = [...impossible(draft, ambient), ...outOfOrder(draft)];
  if (problems.length > 0) return { problems, questions: [] };
  const suspected = suspectedUnit(draft, ambient, context.expectedIdleSle);
  return {
    problems,
    questions: [
      ...(suspected ? [suspected] : []),
      ...askAboutBarometer(draft, standard),
      ...askAboutRecovery(draft),
      ...askAboutHold(draft),
      ...askAboutOdometer(draft, context),
    ],
  };
}

/** Figures outside what the air, the clock or arithmetic allow. */
function impossible(draft: DraftReading, ambient: Kilopascals): readonly Problem[] {
  const { keyedIn, recovery, holdTime, barometer, odometer } = draft;
  const problems: Problem[] = [];
  const most = mostShareOfAmbient * ambient;
  for (const field of vacuums) {
    const value = draft[field];
    if (value === null) continue;
    if (!isMeasurement(value)) problems.push(noMeasurement(field, value));
    else if (value > most) {
      problems.push({
        field,
        value: formatPressure(value, keyedIn),
        message: `The air there can give no more than ${formatPressure(ambient, keyedIn)}.`,
        mend: otherUnitMend(value, keyedIn, most),
      });
    }
  }
  refuseOutside(problems, 'recovery', recovery, 0, longestRecovery, 'Key seconds, 600 at most.');
  refuseOutside(
    problems,
    'holdTime',
    holdTime,
    1,
    longestHold,
    'Key the time held, 1 s to 60 min.',
  );
  refuseOutside(
    problems,
    'barometer',
    barometer,
    leastBarometer,
    mostBarometer,
    'Key station pressure, 45 to 110 kPa, or leave it empty.',
  );
  refuseOutside(problems, 'odometer', odometer, 0, 1e7, 'Key what the odometer shows.');
  return problems;
}

function refuseOutside(
  problems: Problem[],
  field: string,
  value: number | null,
  least: number,
  most: number,
  mend: string,
): void {
  if (value === null) return;
  if (!isMeasurement(value)) problems.push(noMeasurement(field, value));
  else if (value < least || value > most) {
    problems.push({ field, value: String(value), message: 'It is outside what can be.', mend });
  }
}

const isMeasurement = (value: number): boolean => value >= 0 && value < Number.POSITIVE_INFINITY;

const noMeasurement = (field: string, value: number): Problem => ({
  field,
  value: String(value),
  message: 'It is no measurement.',
  mend: 'Key vacuum and times as figures above nought, without a sign.',
});

/** Half of what the air can give is a poor pump, and still a likely figure. */
function otherUnitMend(value: Kilopascals, keyedIn: PressureUnit, most: Kilopascals): string {
  const other = likelyUnit(value, keyedIn, (vacuum) => vacuum > most / 2 && vacuum <= most);
  return other === undefined
    ? 'Read the gauge again, and check the unit on its face.'
    : `Is that ${other}? Choose the unit on the gauge's face, or read it again.`;
}

/** Figures that contradict each other. */
function outOfOrder({ idle, lowest, holdLoss, keyedIn }: DraftReading): readonly Problem[] {
  const problems: Problem[] = [];
  if (idle !== null && isLowestAboveIdle(lowest, idle)) {
    problems.push({
      field: 'lowest',
      value: formatPressure(lowest ?? 0, keyedIn),
      message: `Lowest lies above the idle of ${formatPressure(idle, keyedIn)}.`,
      mend: 'Key the least value over the four presses; check idle as well.',
    });
  }
  if (idle !== null && holdLoss !== null && isLowestAboveIdle(holdLoss, idle)) {
    problems.push({
      field: 'holdLoss',
      value: formatPressure(holdLoss, keyedIn),
      message: `More was lost than the idle of ${formatPressure(idle, keyedIn)}.`,
      mend: 'Key how far the vacuum fell, not what was left.',
    });
  }
  return problems;
}
