import type { Plausibility, PlausibilityContext } from '@/lib/analysis/plausibility';
import { checkPlausibility } from '@/lib/analysis/plausibility';
import type { Reading } from '@/lib/analysis/reading';
import type { MeasuredValues } from '@/lib/intake/measured-values';
import type { ReadingPayload } from '@/lib/intake/reading-payload';
import type { DayNumber, Kilopascals, Metres } from '@/lib/measure';

/** What the readings on record say of the next one. */
export function contextOf(
  readings: readonly Reading[],
  place: { readonly elevation: Metres; readonly expectedIdleSle: Kilopascals | null },
): PlausibilityContext {
  let last: PlausibilityContext['lastOdometer'] = null;
  for (const { odometer, readOn } of readings) {
    if (odometer !== null && (last === null || readOn >= last.on)) last = { on: readOn, odometer };
  }
  return { ...place, lastOdometer: last };
}

/** A person answers a question by its id, or by its id and what was chosen: `odometer: new cluster`. */
export const isConfirmed = (confirmed: readonly string[], id: string): boolean =>
  confirmed.some((one) => one === id || one.startsWith(`${id}: `));

/** Unit of the gauge's face: one gauge gives all pressures of a reading. Undefined where none was keyed. */
export const gaugeUnitOf = (keyed: ReadingPayload['keyed']) =>
  (keyed.idle ?? keyed.lowest ?? keyed.heldAfter ?? keyed.holdLoss ?? keyed.raised)?.unit;

/** The one check, of a payload: what cannot be true, and what is odd and not yet let stand. */
export function checkPayload(
  payload: Pick<ReadingPayload, 'keyed' | 'holdTimeS'> & { readonly confirmed: readonly string[] },
  values: MeasuredValues,
  readOn: DayNumber,
  context: PlausibilityContext,
): Plausibility {
  const { keyed, holdTimeS, confirmed } = payload;
  const { problems, questions } = checkPlausibility(
    { ...values, readOn, holdTime: holdTimeS, keyedIn: gaugeUnitOf(keyed) ?? 'psi' },
    context,
  );
  return { problems, questions: questions.filter(({ id }) => !isConfirmed(confirmed, id)) };
}
