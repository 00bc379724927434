import { z } from 'zod';
import { beltStates, lineStates, pedalStates } from '@/lib/analysis/reading';
import {
  distanceUnits,
  type Kilometres,
  type Kilopascals,
  pressureUnits,
  type Seconds,
  toKilometres,
  toKilopascals,
} from '@/lib/measure';
import { failure, type Problem, type Result, success } from '@/lib/result';
import { keyedNumber } from './keyed-number';

/** Reasons a measurement could not be made; the bay card offers these and no free text. */
export const couldNotReasons = [
  'no gauge here',
  'engine would not run',
  'line would not come off',
  'no room to reach it',
  'ran out of time',
  'other',
] as const;

/** Text that can be stored, hashed and shown as it is: no control, no lone surrogate, no reordering mark. */
const plainText = z
  .string()
  .refine(
    (text) =>
      text.isWellFormed() &&
      !/[\p{Cc}\u202A-\u202E\u2066-\u2069]/u.test(text.replaceAll(/[\n\t]/g, '')),
    {
      message: 'It holds characters that cannot be shown.',
    },
  );

const keyedText = plainText.max(40);
const keyedPressure = z.object({ value: keyedText, unit: z.enum(pressureUnits) });
const keyedTime = z.object({ value: keyedText, unit: z.literal('s') });
const keyedDistance = z.object({ value: keyedText, unit: z.enum(distanceUnits) });

export const measuredFields = [
  'idle',
  'raised',
  'lowest',
  'recovery',
  'holdLoss',
  'odometer',
  'barometer',
] as const;
export type MeasuredField = (typeof measuredFields)[number];

/**
 * One reading as a device sends it, version 1. The device makes the id and keeps sending until the
 * server answers; older versions stay accepted, since an outbox may be older than the server.
 */
export const readingPayload = z.strictObject({
  version: z.literal(1),
  id: z.uuid(),
  unitId: z.string().regex(/^[A-Z0-9][A-Z0-9-]{0,15}$/),
  signedBy: plainText.min(1).max(64),
  gaugeId: plainText.max(64).nullable(),
  readAt: z.iso.datetime({ offset: true }),
  source: z.enum(['bay card', 'form', 'api']),
  keyed: z.strictObject({
    idle: keyedPressure.optional(),
    raised: keyedPressure.optional(),
    lowest: keyedPressure.optional(),
    recovery: keyedTime.optional(),
    holdLoss: keyedPressure.optional(),
    /** What was left when the hold ended; the loss is idle less this. */
    heldAfter: keyedPressure.optional(),
    odometer: keyedDistance.optional(),
    barometer: keyedPressure.optional(),
  }),
  isRecoveryKeyed: z.boolean(),
  holdTimeS: z.number().min(1).max(3600).nullable(),
  line: z.enum(lineStates),
  pedal: z.enum(pedalStates).nullable(),
  belt: z.enum(beltStates).nullable(),
  couldNot: z.partialRecord(
    z.enum([...measuredFields, 'line', 'pedal', 'belt']),
    z.enum(couldNotReasons),
  ),
  isClipTugged: z.boolean().nullable(),
  isProof: z.boolean(),
  note: plainText.max(2000).nullable(),
  /** Odd values that the person saw questioned and let stand. */
  confirmed: z.array(plainText.max(60)).max(20),
  deviceCall: z
    .strictObject({ mark: plainText.max(40), heardFromDeskOn: z.iso.date().nullable() })
    .nullable(),
});
export type ReadingPayload = z.infer<typeof readingPayload>;

/** The SI values of a payload; what was not measured is null. */
export interface MeasuredValues {
  readonly idle: Kilopascals | null;
  readonly raised: Kilopascals | null;
  readonly lowest: Kilopascals | null;
  readonly recovery: Seconds | null;
  readonly holdLoss: Kilopascals | null;
  readonly odometer: Kilometres | null;
  readonly barometer: Kilopascals | null;
}

type KeyedField = keyof ReadingPayload['keyed'];
type Keyed = NonNullable<ReadingPayload['keyed'][KeyedField]>;

function inSi(value: number, { unit }: Keyed): number {
  if (unit === 's') return value;
  return unit === 'mi' || unit === 'km' ? toKilometres(value, unit) : toKilopascals(value, unit);
}

/** A needle read twice differs by its width: this much above idle is no loss, more is a slip. */
const needleWidth = toKilopascals(0.1, 'psi');

/**
 * Turns what was keyed into SI values, or says which field is no plain number. Where the vacuum left
 * after the hold was keyed, the loss is idle less it, and needs idle.
 *
 * @example idle 13.1 psi and 12.8 psi left is a hold loss of 0.3 psi, 2.068 kPa
 */
export function measuredValues(keyed: ReadingPayload['keyed']): Result<MeasuredValues> {
  const problems: Problem[] = [];
  const value = (field: KeyedField): number | null => {
    const entry = keyed[field];
    if (!entry) return null;
    const parsed = keyedNumber(entry.value, field);
    if (parsed.ok) return inSi(parsed.value, entry);
    problems.push(parsed.error);
    return null;
  };
  const idle = value('idle');
  const heldAfter = value('heldAfter');
  if (keyed.heldAfter && !keyed.idle) problems.push(heldNeedsIdle);
  if (idle !== null && heldAfter !== null && heldAfter > idle + needleWidth) {
    problems.push({ ...heldAboveIdle, value: keyed.heldAfter?.value ?? '' });
  }
  const values: MeasuredValues = {
    idle,
    raised: value('raised'),
    lowest: value('lowest'),
    recovery: value('recovery'),
    holdLoss:
      idle !== null && heldAfter !== null ? Math.max(0, idle - heldAfter) : value('holdLoss'),
    odometer: value('odometer'),
    barometer: value('barometer'),
  };
  return problems.length > 0 ? failure(problems) : success(values);
}

const heldNeedsIdle: Problem = {
  field: 'heldAfter',
  message: 'What was left says nothing without the idle vacuum.',
  mend: 'Key idle as well, or leave the hold out.',
};
const heldAboveIdle: Problem = {
  field: 'heldAfter',
  message: 'More was left after the hold than there was at idle.',
  mend: 'Key what the gauge shows with the engine off; check idle as well.',
};

/** Names what is wrong with a payload of the wrong shape: field by field, never "bad request". */
export function parseReadingPayload(raw: unknown): Result<ReadingPayload> {
  const parsed = readingPayload.safeParse(raw);
  if (parsed.success) return success(parsed.data);
  return failure(
    parsed.error.issues.slice(0, 20).map((issue) => ({
      field: issue.path.join('.') || 'reading',
      message: issue.message,
      mend: 'Send the field as the description of the route states it.',
    })),
  );
}
