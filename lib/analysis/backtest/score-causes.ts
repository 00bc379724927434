import type { Cause } from '@/lib/analysis/assessment';
import { type SignedCause, signedCauses } from '@/lib/analysis/diagnose-likelihood';
import { mean } from '@/lib/statistics/mean';

/** What was said of a visit whose true cause is known. */
export interface KnownCause {
  readonly cause: SignedCause;
  readonly said: Cause;
}

export interface CauseScores {
  /** Share of each cause's visits at which it was said; null for a cause that does not occur. */
  readonly recall: Readonly<Record<SignedCause, number | null>>;
  /** Mean of the recalls of the causes that occur, so that a common one counts no more than a rare one. */
  readonly balancedAccuracy: number | null;
}

/**
 * How often the probable cause is the true one, cause by cause and balanced.
 * Source: balanced accuracy as defined by Brodersen and others, ICPR (2010) 3121-3124.
 * Thin data: null throughout without a visit.
 *
 * @example scoreCauses([{ cause: 'pump', said: 'pump' }]).balancedAccuracy is 1
 */
export function scoreCauses(visits: readonly KnownCause[]): CauseScores {
  const recallOf = (cause: SignedCause): number | null => {
    const own = visits.filter((visit) => visit.cause === cause);
    return own.length === 0 ? null : own.filter(({ said }) => said === cause).length / own.length;
  };
  const recall = Object.fromEntries(
    signedCauses.map((cause) => [cause, recallOf(cause)]),
  ) as Record<SignedCause, number | null>;
  const known = Object.values(recall).filter((share) => share !== null);
  return { recall, balancedAccuracy: known.length === 0 ? null : mean(known) };
}
