import type { Seconds } from '@/lib/measure';
import type { ProofFailure, ProofMeasure } from './proof-failures';

/** What is known of a work order that bears on a spell. */
export interface OrderFacts {
  readonly number: number;
  readonly state: 'raised' | 'placed' | 'begun' | 'waiting' | 'finished' | 'closed' | 'withdrawn';
  readonly finishedAt: Date | null;
  readonly waitingFor: string | null;
  /** ISO 8601 calendar date. */
  readonly waitingUntil: string | null;
  /** ISO week of its bay hours, e.g. `2026-W05`. */
  readonly week: string | null;
  /** Raised for this spell; another order of the unit blocks only while it is under way. */
  readonly isForSpell: boolean;
}

export const certificateKinds = ['repaired', 'repair not necessary'] as const;
export type CertificateKind = (typeof certificateKinds)[number];

export interface Certificate {
  readonly kind: CertificateKind;
  readonly by: string;
  readonly at: Date;
}

/** A reading of the unit within the spell, seen as a proof. */
export interface ProofReading {
  readonly readingId: string;
  /** Null for a reader who is no person of this fleet, and so cannot be told from the certifier. */
  readonly readBy: string | null;
  /** Whoever amended it had a hand in it too. */
  readonly amendedBy: readonly string[];
  /** The earlier of the device's and the server's time: nothing is read after it arrived. */
  readonly readAt: Date;
  /** How far the device's clock was off. */
  readonly clockSkew: Seconds | null;
  /** A safety officer let a reading from a wrong clock stand. */
  readonly isClockAccepted: boolean;
  readonly failures: readonly ProofFailure[];
  readonly notMeasured: readonly ProofMeasure[];
}

/** All that decides whether a unit may go back. Everything else about a spell is for show. */
export interface SpellFacts {
  readonly shedId: string;
  readonly openedAt: Date;
  readonly releasedAt: Date | null;
  /** Orders of the unit, without those finished before the spell opened. */
  readonly orders: readonly OrderFacts[];
  readonly certificate: Certificate | null;
  readonly readings: readonly ProofReading[];
  /** Numbers of approved do-not-drive bulletins still open on the unit. */
  readonly openBulletins: readonly string[];
}

export interface ReleaseSettings {
  /** The releaser may also have read the proof. Never the certifier. */
  readonly isSmallShop: boolean;
}
