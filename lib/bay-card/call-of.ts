import type { UnitAssessment } from '@/lib/analysis/assess-unit';
import type { Mark } from '@/lib/analysis/assessment';
import type { Limits } from '@/lib/analysis/limits';
import type { Reading } from '@/lib/analysis/reading';
import { type Figure, figuresOf } from '@/lib/bay-card/figures-of';
import type { Kilopascals, PressureUnit } from '@/lib/measure';
import {
  proofFailures,
  proofFailureWords,
  proofMeasureWords,
} from '@/lib/stand-down/proof-failures';

/** What a reading means and what to do now, in the order in which it is shown. */
export interface Call {
  readonly mark: Mark | null;
  readonly mayGoOut: boolean;
  /** One sentence on whether the unit may go out, with what it rests on. */
  readonly verdict: string;
  readonly why: string | null;
  readonly hazard: string | null;
  readonly doNow: readonly string[];
  readonly figures: readonly Figure[];
  /** Probable cause and the check that would tell most; null where nothing points anywhere. */
  readonly cause: string | null;
  /** For a proof reading: whether it passes, and what fails. */
  readonly proof: { readonly passes: boolean; readonly says: string } | null;
}

export interface CallContext {
  /** `on record` when the desk judged; else the day the desk was last heard, ISO 8601. */
  readonly judgedBy: 'the desk' | { readonly heardOn: string };
  readonly limits: Limits;
  readonly ambient: Kilopascals;
  readonly pressureUnit: PressureUnit;
  readonly isProof: boolean;
  /** Whoever read it certified the repair, so that it proves nothing. */
  readonly isOwnRepair: boolean;
}

const hazardOfStop =
  'Brake assist can be lost. The pedal goes hard and stopping takes longer; people can be killed.';

/**
 * The call, in words. A verdict reached without the desk says so, and never claims more than this
 * reading and the day the desk was last heard.
 */
export function callOf(assessment: UnitAssessment, reading: Reading, context: CallContext): Call {
  const { mark, mayGoOut, reasons } = assessment;
  const why = reasons[0]?.rule === 'inside limits' ? null : (reasons[0]?.text ?? null);
  const isOut = mark === 'Out of service';
  const isOnRecord = context.judgedBy === 'the desk';
  return {
    mark,
    mayGoOut,
    verdict: verdictWords(assessment, context),
    why,
    hazard: isOut ? hazardOfStop : null,
    doNow: isOut ? afterStop(isOnRecord) : afterReading(assessment),
    figures: figuresOf(reading, assessment, context),
    cause: why === null ? null : causeWords(assessment),
    proof: context.isProof ? proofOf(reading, isOut, context) : null,
  };
}

function verdictWords(
  { mark, mayGoOut, standing }: UnitAssessment,
  { judgedBy }: CallContext,
): string {
  if (mark === 'Out of service') return 'Do not drive this unit.';
  if (!mayGoOut) return `The record has it ${standing}. Ask the desk before it is used.`;
  return judgedBy === 'the desk'
    ? 'The unit may go out.'
    : `By this reading it may go out; last heard from the desk ${judgedBy.heardOn}.`;
}

const byOwnHand =
  'Not a proof: the values would pass, but you certified this repair. Another person must read it.';

const afterStop = (isOnRecord: boolean): readonly string[] => [
  'Park it, hang the stop tag, hand the key to the desk. To move it, tow it.',
  isOnRecord
    ? 'It is on the Stand-down board. Call the desk now.'
    : 'The desk does not have this yet. Call the desk now.',
];

function afterReading({ reasons, latest, nextReadingDue, asOf }: UnitAssessment): string[] {
  const has = (...rules: readonly string[]) => reasons.some(({ rule }) => rules.includes(rule));
  const now: string[] = [];
  if (latest?.isUnconfirmed) now.push('The idle value surprises: measure again today.');
  if (has('film once', 'film twice')) now.push('Wipe the line, look again next time.');
  if (has('belt worn', 'belt due')) now.push('The belt wants changing: ask the desk for a bay.');
  if (has('line not seen')) now.push('Look into the line as soon as it comes off.');
  if (has('newest reading set aside')) now.push('Read it again: these values cannot be true.');
  if (reasons[0]?.mark === 'Book in' && now.length === 0) now.push('Ask the desk for a bay.');
  if (now.length > 0) return now;
  return nextReadingDue !== null && nextReadingDue > asOf
    ? [`Nothing to do. Read again in ${nextReadingDue - asOf} days.`]
    : ['Nothing to do.'];
}

function causeWords({ diagnosis }: UnitAssessment): string | null {
  const { said, confidence, nextCheck } = diagnosis;
  if (said === 'none shown') return null;
  return said === 'cannot tell'
    ? `Next check: ${nextCheck}`
    : `Probable cause: ${said} (${confidence} confidence). Next check: ${nextCheck}`;
}

function proofOf(
  reading: Reading,
  isOut: boolean,
  { limits, ambient, pressureUnit, isOwnRepair }: CallContext,
): Call['proof'] {
  const { failures, notMeasured } = proofFailures(reading, limits, ambient);
  if (failures.length === 0 && notMeasured.length === 0) {
    if (isOwnRepair) return { passes: false, says: byOwnHand };
    const until = isOut ? ' It stays out until released to service.' : '';
    return { passes: true, says: `These values pass as proof.${until}` };
  }
  const failed = failures.map((failure) => proofFailureWords(failure, pressureUnit));
  const missing = notMeasured.length > 0 ? [`not measured: ${proofMeasureWords(notMeasured)}`] : [];
  const short = [...failed, ...missing].join('; ');
  return { passes: false, says: `Not a proof: ${short}. The repair is not proven.` };
}
