import { z } from 'zod';
import { roles } from '@/lib/access';
import { isPlainLine, plainLine } from '@/lib/plain-text';

export const shortestPassword = 12;
export const longestPassword = 128;

const shedIds = z.array(plainLine(64, 'A shed has no name.')).max(500);

export const emailAddress = plainLine(254, 'The e-mail address is missing.')
  .toLowerCase()
  .pipe(z.email('This is not an e-mail address.'));

export const newPassword = z
  .string()
  .min(shortestPassword, `The password has fewer than ${shortestPassword} characters.`)
  .max(longestPassword, `The password has more than ${longestPassword} characters.`)
  .refine(isPlainLine, 'It holds an unusable character.');

const details = z.strictObject({
  name: plainLine(80, 'The name is missing.'),
  email: emailAddress,
  badge: plainLine(16, 'The badge is missing.'),
  role: z.enum(roles, { error: 'Choose a role.' }),
  shedIds,
  /** Of another shop, and named as such beside what they certify. */
  isOutsideCertifier: z.boolean().optional(),
});

export const personDetails = details.refine(
  ({ role, isOutsideCertifier }) => !isOutsideCertifier || role === 'technician',
  { path: ['isOutsideCertifier'], message: 'Who certifies for an outside shop is a technician.' },
);
export type PersonDetails = z.infer<typeof personDetails>;

/** What an admin can change of somebody: what they may do, and where. */
export const placeInFleet = details.pick({ role: true, shedIds: true });
export type PlaceInFleet = z.infer<typeof placeInFleet>;
