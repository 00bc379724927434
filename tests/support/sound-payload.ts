import { randomUUID } from 'node:crypto';
import type { ReadingPayload } from '@/lib/intake/reading-payload';

/** A sound reading as a device sends it; `step` sets day and odometer on by one. */
export function soundPayload(unitId: string, signedBy: string, step = 0): ReadingPayload {
  const psi = (value: string) => ({ value, unit: 'psi' as const });
  return {
    version: 1,
    id: randomUUID(),
    unitId,
    signedBy,
    gaugeId: null,
    readAt: new Date(Date.UTC(2026, 0, 5, 15) + step * 86_400_000).toISOString(),
    source: 'bay card',
    keyed: {
      idle: psi('13.1'),
      lowest: psi('10.5'),
      recovery: { value: '6.8', unit: 's' },
      heldAfter: psi('12.8'),
      odometer: { value: String(50_000 + 30 * step), unit: 'mi' },
    },
    isRecoveryKeyed: false,
    holdTimeS: 60,
    line: 'dry',
    pedal: 'normal',
    belt: null,
    couldNot: {},
    isClipTugged: true,
    isProof: false,
    note: null,
    confirmed: ['odometer', 'odometer: new cluster', 'unit of measure'],
    deviceCall: null,
  };
}
