import { z } from 'zod';
import { beltStates, lineStates, pedalStates } from '@/lib/analysis/reading';
import { distanceUnits, pressureUnits } from '@/lib/measure';
import { failure, type Result, success } from '@/lib/result';
import { unitNumberPattern } from '@/lib/unit-number';
import { couldNotReasons } from './could-not-reasons';

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
/** Read off a logging gauge's trace; left out where a person keyed the figure. */
const from = z.literal('trace').optional();
const keyedPressure = z.object({ value: keyedText, unit: z.enum(pressureUnits), from });
const keyedTime = z.object({ value: keyedText, unit: z.literal('s'), from });
const keyedDistance = z.object({ value: keyedText, unit: z.enum(distanceUnits) });

const measuredFields = [
  'idle',
  'raised',
  'lowest',
  'recovery',
  'holdLoss',
  'odometer',
  'barometer',
] as const;

/** What a trace tells beyond the figures it fills. */
const traceOfReading = z.strictObject({
  timeConstantS: z.number().positive().nullable(),
  /** To one fixed level, since wear shortens the recovery to the pump's own, lower, idle. */
  recoveryToLevelS: z.number().min(0).nullable(),
  levelKpa: z.number().min(0).max(110),
  presses: z.int().min(1).max(50),
  keyOff: z.enum(['marked', 'found', 'not found']),
  samplesPerSecond: z.number().positive(),
  noiseKpa: z.number().min(0),
  /** A person moved what was found. */
  isCorrected: z.boolean(),
});
export type TraceOfReading = z.infer<typeof traceOfReading>;

/**
 * One reading as a device sends it, version 1. The device makes the id and keeps sending until the
 * server answers; older versions stay accepted, since an outbox may be older than the server.
 */
export const readingPayload = z.strictObject({
  version: z.literal(1),
  id: z.uuid(),
  unitId: z.string().regex(unitNumberPattern),
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
  trace: traceOfReading.optional(),
});
export type ReadingPayload = z.infer<typeof readingPayload>;

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
