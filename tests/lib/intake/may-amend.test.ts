import { expect, it } from 'vitest';
import { mayAmend } from '@/lib/intake/may-amend';

const receivedAt = new Date('2026-01-05T15:00:00Z');
const own = { technicianId: 'tal', receivedAt };
const tal = { role: 'technician', personId: 'tal' } as const;
const after = (hours: number) => new Date(receivedAt.getTime() + hours * 3_600_000);

it('a technician amends an own reading for a day, and nobody else’s', () => {
  expect(mayAmend(tal, own, after(24))).toBe(true);
  expect(mayAmend(tal, own, after(24.1))).toBe(false);
  expect(mayAmend(tal, { ...own, technicianId: 'ode' }, after(1))).toBe(false);
  expect(mayAmend(tal, { ...own, technicianId: null }, after(1))).toBe(false);
});

it('a safety officer amends at any time', () => {
  expect(mayAmend({ role: 'safety officer', personId: 'rhea' }, own, after(9000))).toBe(true);
});
