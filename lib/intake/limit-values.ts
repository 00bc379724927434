import { toKilometres, toKilopascals } from '@/lib/measure';
import { failure, type Problem, type Result, success } from '@/lib/result';
import { keyedNumber } from './keyed-number';
import {
  type LimitName,
  type LimitUnits,
  type LimitValues,
  limitFigure,
  limitRows,
  limitUnit,
  type Quantity,
} from './limit-rows';

/** Pairs of which the first must lie below the second. */
const ordered: readonly (readonly [LimitName, LimitName])[] = [
  ['idleStopAsRead', 'idleCautionSle'],
  ['lowestStopAsRead', 'lowestCautionSle'],
  ['recoveryCaution', 'recoveryStop'],
  ['hold60Caution', 'hold60Stop'],
  ['hold300Caution', 'hold300Stop'],
  ['idleCautionSle', 'proofIdleSle'],
  ['lowestCautionSle', 'proofLowestSle'],
  ['driftingScore', 'bookInScore'],
];

/** Most that a limit can be, so that a slip of a digit is asked back. Own choice. */
const most: Record<Quantity, number> = {
  pressure: 101.325,
  distance: 500_000,
  s: 600,
  days: 1_000,
  probability: 1,
  times: 10,
};

/**
 * Limits as keyed, in the person's units, turned to SI. A figure left as it was shown keeps its exact
 * stored value: showing and reading back must not move a limit.
 *
 * @example limitValues({ idleCautionSle: '10.2', ... }, stored, { pressure: 'psi', distance: 'mi' })
 */
export function limitValues(
  keyed: Readonly<Record<string, unknown>>,
  stored: LimitValues,
  units: LimitUnits,
): Result<LimitValues> {
  const problems: Problem[] = [];
  const values: Record<LimitName, number> = { ...stored };
  for (const { name, quantity } of limitRows) {
    const text = String(keyed[name] ?? '');
    if (text.trim() === limitFigure(stored[name], quantity, units)) continue;
    const parsed = keyedNumber(text, name);
    if (!parsed.ok) {
      problems.push(parsed.error);
      continue;
    }
    const value = inSi(parsed.value, quantity, units);
    if (value > 0 && value <= most[quantity]) values[name] = value;
    else {
      problems.push({
        field: name,
        value: text,
        message: 'It is outside what a limit can be.',
        mend: `Key more than 0 and at most ${limitFigure(most[quantity], quantity, units)} ${limitUnit(quantity, units)}.`,
      });
    }
  }
  return problems.length > 0 ? failure(problems) : inOrder(values);
}

function inSi(value: number, quantity: Quantity, units: LimitUnits): number {
  if (quantity === 'pressure') return toKilopascals(value, units.pressure);
  return quantity === 'distance' ? toKilometres(value, units.distance) : value;
}

function inOrder(values: LimitValues): Result<LimitValues> {
  const label = (name: LimitName) => limitRows.find((row) => row.name === name)?.label ?? name;
  const problems = ordered
    .filter(([lower, upper]) => values[lower] >= values[upper])
    .map(([lower, upper]) => ({
      field: lower,
      message: `“${label(lower)}” must lie below “${label(upper)}”.`,
      mend: 'Change one of the two.',
    }));
  return problems.length > 0 ? failure(problems) : success(values);
}

/** The names whose values differ. */
export const changedLimits = (before: LimitValues, after: LimitValues): readonly LimitName[] =>
  limitRows.map(({ name }) => name).filter((name) => before[name] !== after[name]);
