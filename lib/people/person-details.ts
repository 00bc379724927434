import { z } from 'zod';
import { roles } from '@/lib/access';

export const shortestPassword = 12;
export const longestPassword = 128;

/** Text that can be stored and shown as it is: no control, no lone surrogate, no reordering mark. */
const line = (most: number, missing: string) =>
  z
    .string()
    .trim()
    .min(1, missing)
    .max(most, `It is longer than ${most} characters.`)
    .refine(
      (text) => text.isWellFormed() && !/[\p{Cc}\u202A-\u202E\u2066-\u2069]/u.test(text),
      'It holds characters that cannot be shown.',
    );

const shedIds = z.array(line(64, 'A shed has no name.')).max(500);

export const emailAddress = line(254, 'The e-mail address is missing.')
  .toLowerCase()
  .pipe(z.email('This is not an e-mail address.'));

export const newPassword = z
  .string()
  .min(shortestPassword, `The password has fewer than ${shortestPassword} characters.`)
  .max(longestPassword, `The password has more than ${longestPassword} characters.`)
  .refine((text) => text.isWellFormed() && !text.includes('\0'), 'It holds an unusable character.');

export const personDetails = z.strictObject({
  name: line(80, 'The name is missing.'),
  email: emailAddress,
  badge: line(16, 'The badge is missing.'),
  role: z.enum(roles, { error: 'Choose a role.' }),
  shedIds,
});
export type PersonDetails = z.infer<typeof personDetails>;

/** What an admin can change of somebody: what they may do, and where. */
export const placeInFleet = personDetails.pick({ role: true, shedIds: true });
export type PlaceInFleet = z.infer<typeof placeInFleet>;
