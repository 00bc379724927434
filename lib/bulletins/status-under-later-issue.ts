import type { Judgement } from '@/lib/bulletins/applies-to-unit';
import type { BulletinState, BulletinTerms } from '@/lib/bulletins/bulletin-state';
import { statusOfAnswer } from '@/lib/bulletins/bulletin-status';
import { type FittedPart, partsLacking } from '@/lib/bulletins/required-parts';

/** How the work of the earlier issue stands when a later one replaces it. */
export interface EarlierWork {
  readonly state: BulletinState;
  /** Parts fitted at present. */
  readonly fitted: readonly FittedPart[];
}

/**
 * First state of a unit under a later issue. Only done carries over, only where the later issue's own
 * rule says so, and only while the parts that it asks for are fitted. Plans, refusals and
 * inspections were made on the earlier text and begin again.
 *
 * Source: the fleet's own rules; common practice, no published source.
 */
export function statusUnderLaterIssue(
  terms: Pick<BulletinTerms, 'requiredParts'> & { readonly doesDoneCarry: boolean },
  judgement: Pick<Judgement, 'answer' | 'why'>,
  earlier: EarlierWork | null,
): BulletinState {
  const carries =
    terms.doesDoneCarry &&
    judgement.answer !== 'does not' &&
    earlier?.state.status === 'done' &&
    partsLacking(terms.requiredParts, earlier.fitted).length === 0;
  return carries
    ? { status: 'done', reason: 'done under the earlier issue', reviewOn: null }
    : { status: statusOfAnswer[judgement.answer], reason: judgement.why, reviewOn: null };
}
