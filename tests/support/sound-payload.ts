import { randomUUID } from 'node:crypto';
import type { ReadingPayload } from '@/lib/intake/reading-payload';

type Signed = Pick<ReadingPayload, 'unitId' | 'signedBy'>;

/** A reading as a device sends it, with nothing measured but what the test names. */
export const readingWith = (change: Signed & Partial<ReadingPayload>): ReadingPayload => ({
  version: 1,
  id: randomUUID(),
  gaugeId: null,
  readAt: new Date().toISOString(),
  source: 'bay card',
  keyed: {},
  isRecoveryKeyed: false,
  holdTimeS: null,
  line: 'dry',
  pedal: 'normal',
  belt: null,
  couldNot: {},
  isClipTugged: true,
  isProof: false,
  note: null,
  confirmed: [],
  deviceCall: null,
  ...change,
});

/** A sound reading as a device sends it; `step` sets day and odometer on by one. */
export function soundPayload(unitId: string, signedBy: string, step = 0): ReadingPayload {
  const psi = (value: string) => ({ value, unit: 'psi' as const });
  return readingWith({
    unitId,
    signedBy,
    readAt: new Date(Date.UTC(2026, 0, 5, 15) + step * 86_400_000).toISOString(),
    keyed: {
      idle: psi('13.1'),
      lowest: psi('10.5'),
      recovery: { value: '6.8', unit: 's' },
      heldAfter: psi('12.8'),
      odometer: { value: String(50_000 + 30 * step), unit: 'mi' },
    },
    holdTimeS: 60,
    confirmed: ['odometer', 'odometer: new cluster', 'unit of measure'],
  });
}
