import { z } from 'zod';
import { keyedNumber } from '@/lib/intake/keyed-number';
import { distanceUnits, type Metres, pressureUnits } from '@/lib/measure';
import { plainLine } from '@/lib/plain-text';

export const elevationUnits = ['ft', 'm'] as const;
export type ElevationUnit = (typeof elevationUnits)[number];

/** By the international foot: NIST SP 811, appendix B.8. */
const metresPerUnit: Record<ElevationUnit, number> = { ft: 0.3048, m: 1 };

/** Shores below the sea and the highest road there is; the database holds the same bounds. */
const lowest: Metres = -450;
const highest: Metres = 5000;
const mostBayHours = 10_000;

const code = z
  .string({ error: 'The short name is missing.' })
  .trim()
  .regex(
    /^[a-z0-9][a-z0-9-]{0,31}$/,
    'A short name is 1 to 32 small letters, digits and hyphens, such as north or quay-2.',
  );

const keyed = (field: string) =>
  z.string().transform((text, context) => {
    const number = keyedNumber(text, field);
    if (number.ok) return number.value;
    context.addIssue({ code: 'custom', message: `${number.error.message} ${number.error.mend}` });
    return z.NEVER;
  });

/** Below the sea an elevation has a minus sign, which no other keyed number has. */
const elevation = z.string().transform((text, context) => {
  const below = /^\s*[-\u2212]/.test(text);
  const number = keyedNumber(below ? text.replace(/[-\u2212]/, '') : text, 'elevation');
  if (number.ok) return below ? -number.value : number.value;
  context.addIssue({ code: 'custom', message: `${number.error.message} ${number.error.mend}` });
  return z.NEVER;
});

function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en-US', { timeZone: name }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

/**
 * A shed as a person keys it. Its elevation decides what vacuum its air can give, its zone when a day
 * begins there; both are asked, never guessed.
 *
 * @example shedDetails.safeParse of 7,000 ft gives an elevation of 2133.6 m
 */
export const shedDetails = z
  .strictObject({
    shedId: code,
    name: plainLine(60, 'The name is missing.'),
    elevation,
    elevationUnit: z.enum(elevationUnits, { error: 'Choose ft or m.' }),
    timeZone: plainLine(64, 'The time zone is missing.').refine(
      (zone) => zone === '' || isTimeZone(zone),
      'No such time zone is known. Name one such as America/Denver.',
    ),
    pressureUnit: z.enum(pressureUnits, { error: 'Choose psi, inHg or kPa.' }),
    distanceUnit: z.enum(distanceUnits, { error: 'Choose mi or km.' }),
    bayHoursPerWeek: keyed('bayHoursPerWeek').refine(
      (hours) => hours <= mostBayHours,
      `Bay hours are 0 to ${mostBayHours} a week.`,
    ),
  })
  .transform(({ elevation, elevationUnit, ...rest }) => ({
    ...rest,
    elevationM: elevation * metresPerUnit[elevationUnit],
  }))
  .refine(({ elevationM }) => elevationM >= lowest && elevationM <= highest, {
    path: ['elevation'],
    message: `An elevation is ${lowest} to ${highest} m. Check its unit.`,
  });
export type ShedDetails = z.infer<typeof shedDetails>;

export const gaugeDetails = z.strictObject({
  gaugeId: code,
  shedId: code,
  label: plainLine(60, 'The words on the gauge are missing.'),
  pressureUnit: z.enum(pressureUnits, { error: 'Choose psi, inHg or kPa.' }),
  isLogging: z.boolean(),
  /** Empty where none is due. */
  calibrationDueOn: z.union([z.literal('').transform(() => null), z.iso.date()], {
    error: 'It is no day. Write year-month-day, or leave it empty.',
  }),
});
export type GaugeDetails = z.infer<typeof gaugeDetails>;
