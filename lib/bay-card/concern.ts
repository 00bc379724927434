import { checkPlausibility, type PlausibilityContext } from '@/lib/analysis/plausibility';
import { isIdleLikely, likelyUnit } from '@/lib/analysis/suspected-unit';
import { ambientPressureAt, seaLevelPressure } from '@/lib/atmosphere';
import { withPoint } from '@/lib/bay-card/apply-key';
import type { Draft, EntryField } from '@/lib/bay-card/draft';
import { keyedOf } from '@/lib/bay-card/draft-to-payload';
import { measuredValues } from '@/lib/intake/measured-values';
import { checkPayload, isConfirmed } from '@/lib/intake/payload-plausibility';
import { type DayNumber, formatPressure, type Kilopascals, toKilopascals } from '@/lib/measure';

/** What the card asks before it goes on. Without an id it is a refusal: only another value helps. */
export interface Concern {
  readonly id: string | null;
  readonly field: EntryField;
  readonly message: string;
  readonly choices: readonly string[];
}

const fieldOf = (named: string): EntryField =>
  named === 'holdLoss' || named === 'holdTime' ? 'heldAfter' : (named as EntryField);

/**
 * What is impossible or odd in the values keyed so far, first the impossible. One check with the
 * server's, and what only the person at the gauge can answer: a point that slipped, and an idle value
 * far from what the unit shows.
 */
export function concernsOf(
  draft: Draft,
  readOn: DayNumber,
  context: PlausibilityContext,
): readonly Concern[] {
  const keyed = keyedOf(draft);
  const measured = measuredValues(keyed);
  if (!measured.ok) {
    return measured.error.map(({ field, message, mend }) => ({
      id: null,
      field: fieldOf(field),
      message: `${message} ${mend}`,
      choices: [],
    }));
  }
  const { problems, questions } = checkPayload(
    { keyed, holdTimeS: draft.holdTimeS, confirmed: draft.confirmed },
    measured.value,
    readOn,
    context,
  );
  const isAsked = problems.length > 0 || questions.some(({ field }) => field === 'idle');
  const odd =
    slippedPoint(draft, context) ??
    (isAsked ? null : farFromUsual(draft, measured.value.idle, context));
  return [
    ...problems.map(({ field, message, mend }) => ({
      id: null,
      field: fieldOf(field),
      message: `${message} ${mend}`,
      choices: otherUnit(draft, fieldOf(field), context),
    })),
    ...(odd ? [odd] : []),
    ...questions.map(({ id, field, message, choices }) => ({
      id,
      field: fieldOf(field),
      message,
      choices,
    })),
  ];
}

/** The unit of measure in which a refused figure could stand, to be chosen with one tap. */
function otherUnit(
  draft: Draft,
  field: EntryField,
  { elevation }: PlausibilityContext,
): readonly string[] {
  if (field === 'odometer' || field === 'recovery') return [];
  const ambient = ambientPressureAt(elevation);
  const value = toKilopascals(Number(withPoint(draft.entries[field])), draft.pressureUnit);
  const other = likelyUnit(
    value,
    draft.pressureUnit,
    (vacuum) => vacuum > ambient / 2 && vacuum < ambient,
  );
  return other ? [other] : [];
}

/**
 * The unit's own level was another: one touch lets the figure stand, so that a slip of the finger
 * stops no sound unit and hides no failing one. A proof reading follows a repair and may be higher.
 */
function farFromUsual(
  draft: Draft,
  idle: Kilopascals | null,
  { elevation, expectedIdleSle: usual }: PlausibilityContext,
): Concern | null {
  const answered = ['unit of measure', 'decimal point', 'idle level'];
  if (idle === null || usual === null) return null;
  if (answered.some((id) => isConfirmed(draft.confirmed, id))) return null;
  const ambient = ambientPressureAt(elevation);
  const here = usual * (ambient / seaLevelPressure);
  if (isIdleLikely(idle, ambient, usual) || (draft.isProof && idle > here)) return null;
  return {
    id: 'idle level',
    field: 'idle',
    message: `By its readings this unit shows about ${formatPressure(here, draft.pressureUnit)} here.`,
    choices: [`it shows ${formatPressure(idle, draft.pressureUnit)}`, 'key it again'],
  };
}

/** `13` on the pad is 1.3; where 13.0 would be sound, the card asks which was meant. */
function slippedPoint(draft: Draft, context: PlausibilityContext): Concern | null {
  const digits = draft.entries.idle;
  if (digits === '' || isConfirmed(draft.confirmed, 'decimal point')) return null;
  const asIf = toKilopascals(Number(digits), draft.pressureUnit);
  const { elevation, expectedIdleSle } = context;
  if (!isIdleLikely(asIf, ambientPressureAt(elevation), expectedIdleSle)) return null;
  const { problems } = checkPlausibility(
    { ...noValues, idle: asIf, keyedIn: draft.pressureUnit },
    context,
  );
  if (problems.length > 0) return null;
  const choices = [`${digits}.0`, withPoint(digits)];
  return {
    id: 'decimal point',
    field: 'idle',
    message: `The point goes before the last digit. Is it ${choices.join(' or ')}?`,
    choices,
  };
}

const noValues = {
  readOn: 0,
  raised: null,
  lowest: null,
  recovery: null,
  holdLoss: null,
  holdTime: null,
  barometer: null,
  odometer: null,
} as const;
