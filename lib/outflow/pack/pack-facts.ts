import type { Mark } from '@/lib/analysis/assessment';
import type { LimitValues } from '@/lib/intake/limit-rows';
import type { ChainFault } from '@/lib/ledger/chain';
import type { Kilometres, Kilopascals, Seconds } from '@/lib/measure';
import type { AmendedColumn } from '../amended-words';

/** What a pack is about: one unit, a period, or one unit in a period. Days are UTC, both included. */
export interface PackScope {
  readonly unitId: string | null;
  readonly from: string | null;
  readonly to: string | null;
}

export interface PackUnit {
  readonly id: string;
  readonly shed: string;
  readonly make: string | null;
  readonly vin: string | null;
  readonly modelYear: number | null;
  readonly tireSize: string | null;
  readonly gvwrKg: number | null;
  readonly trackedFrom: string;
  readonly leftFleetOn: string | null;
}

/** What policy took from the record of a unit. */
export interface PackPurge {
  readonly unitId: string;
  readonly entry: number;
  readonly purgedAt: Date;
  readonly readings: number;
  readonly verdicts: number;
  readonly spells: number;
  readonly orders: number;
  readonly payloads: number;
}

/** As first recorded; what was amended stands apart. */
export interface PackReading {
  readonly unitId: string;
  readonly entry: number;
  readonly readAt: Date;
  readonly receivedAt: Date;
  readonly by: string;
  readonly gauge: string | null;
  readonly idle: Kilopascals | null;
  readonly raised: Kilopascals | null;
  readonly lowest: Kilopascals | null;
  readonly recovery: Seconds | null;
  readonly holdLoss: Kilopascals | null;
  readonly holdTime: Seconds | null;
  readonly line: string;
  readonly pedal: string | null;
  readonly belt: string | null;
  readonly odometer: Kilometres | null;
  readonly couldNot: Readonly<Record<string, string>>;
  readonly isProof: boolean;
}

export interface PackAmendment {
  readonly unitId: string;
  readonly readingEntry: number;
  readonly before: Readonly<Partial<Record<AmendedColumn, unknown>>>;
  readonly after: Readonly<Partial<Record<AmendedColumn, unknown>>>;
  readonly reason: string;
  readonly state: string;
  readonly madeBy: string;
  readonly madeAt: Date;
  readonly decidedBy: string | null;
  readonly decidedAt: Date | null;
}

export interface PackVerdict {
  readonly unitId: string;
  readonly judgedAt: Date;
  readonly mark: Mark | null;
  readonly why: string;
  readonly limitsVersion: number;
  readonly methodVersion: string;
  /** The last ledger entry that it knew of. */
  readonly knownTo: number;
}

export interface PackLimits {
  readonly version: number;
  readonly values: LimitValues;
  readonly effectiveFrom: string;
  readonly source: string;
  readonly reason: string;
  readonly proposedBy: string | null;
  readonly decidedBy: string | null;
}

export interface PackSpell {
  readonly unitId: string;
  readonly openedAt: Date;
  readonly openedBy: string;
  readonly cause: string;
  readonly why: string;
  readonly note: string | null;
  readonly readingEntry: number | null;
  readonly bulletin: string | null;
  readonly tagHungBy: string | null;
  readonly tagHungAt: Date | null;
  readonly certificate: string | null;
  readonly certifiedBy: string | null;
  readonly certifiedAt: Date | null;
  readonly certifiedNote: string | null;
  readonly proofEntry: number | null;
  readonly proofReadBy: string | null;
  readonly releasedBy: string | null;
  readonly releasedAt: Date | null;
  readonly releasedNote: string | null;
  readonly isSmallShop: boolean;
}

export interface PackOrder {
  readonly number: number;
  readonly unitId: string;
  readonly state: string;
  readonly why: string;
  readonly raisedBy: string | null;
  readonly raisedAt: Date;
  readonly finishedBy: string | null;
  readonly finishedAt: Date | null;
  readonly odometer: Kilometres | null;
  readonly foundCause: string | null;
  readonly tasks: readonly {
    readonly title: string;
    readonly state: string;
    readonly struckWhy: string | null;
  }[];
  readonly fitted: readonly { readonly part: string; readonly revision: string | null }[];
}

export interface PackBulletin {
  readonly unitId: string;
  readonly number: string;
  readonly issue: string;
  readonly title: string;
  readonly kind: string;
  readonly applicability: string;
  readonly why: string;
  readonly status: string;
  readonly statusBy: string | null;
  readonly statusAt: Date;
  readonly statusReason: string | null;
}

export interface PackEntry {
  readonly entry: number;
  readonly at: Date;
  readonly deviceAt: Date | null;
  readonly who: string | null;
  readonly kind: string;
  readonly unitId: string | null;
  /** Null where policy has purged it. */
  readonly canonical: string | null;
  readonly payloadDigest: string;
  readonly previousHash: string;
  readonly hash: string;
}

/** How the whole chain stood when the pack was made. */
export interface PackCheck {
  readonly checkedAt: Date;
  readonly entries: number;
  readonly head: string | null;
  readonly faults: readonly ChainFault[];
  readonly headsHeld: number;
  readonly spoiltHeads: readonly string[];
}

export interface PackFacts {
  readonly scope: PackScope;
  readonly units: readonly PackUnit[];
  readonly readings: readonly PackReading[];
  readonly amendments: readonly PackAmendment[];
  readonly verdicts: readonly PackVerdict[];
  readonly limits: readonly PackLimits[];
  readonly spells: readonly PackSpell[];
  readonly orders: readonly PackOrder[];
  readonly bulletins: readonly PackBulletin[];
  readonly entries: readonly PackEntry[];
  readonly purges: readonly PackPurge[];
}
