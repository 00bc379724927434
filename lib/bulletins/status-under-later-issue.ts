import type { Judgement } from '@/lib/bulletins/applies-to-unit';
import type { BulletinState, BulletinTerms } from '@/lib/bulletins/bulletin-state';
import { isRequiredFitted, statusOfAnswer } from '@/lib/bulletins/bulletin-status';

/** How the work of the earlier issue stands when a later one replaces it. */
export interface EarlierWork {
  readonly state: BulletinState;
  /** Revision of the required part that is fitted at present, where it is on record. */
  readonly fittedRevision: string | null;
}

/**
 * First state of a unit under a later issue. Only done carries over, only where the later issue's own
 * rule says so, and only while the revision that it asks for is fitted. Plans, refusals and
 * inspections were made on the earlier text and begin again.
 *
 * Source: the fleet's own rules; common practice, no published source.
 */
export function statusUnderLaterIssue(
  terms: Pick<BulletinTerms, 'requiredRevision'> & { readonly doesDoneCarry: boolean },
  judgement: Pick<Judgement, 'answer' | 'why'>,
  earlier: EarlierWork | null,
): BulletinState {
  const carries =
    terms.doesDoneCarry &&
    judgement.answer !== 'does not' &&
    earlier?.state.status === 'done' &&
    isRequiredFitted(terms, earlier.fittedRevision);
  return carries
    ? { status: 'done', reason: 'done under the earlier issue', reviewOn: null }
    : { status: statusOfAnswer[judgement.answer], reason: judgement.why, reviewOn: null };
}
