import type { Role } from '@/lib/access';
import type { Applicability } from '@/lib/bulletins/applies-to-unit';
import type {
  BulletinEvent,
  BulletinKind,
  BulletinState,
  BulletinStatus,
  BulletinTerms,
} from '@/lib/bulletins/bulletin-state';
import {
  type FittedPart,
  fittedInWords,
  partsLacking,
  requiredPartsInWords,
} from '@/lib/bulletins/required-parts';
import { isoFromDay } from '@/lib/calendar';
import type { DayNumber } from '@/lib/measure';
import { failure, type Problem, type Result, success } from '@/lib/result';

type Step = Result<BulletinState, Problem>;

const to = (status: BulletinStatus, reason: string, reviewOn: DayNumber | null = null): Step =>
  success({ status, reason, reviewOn });

type Asked = 'status' | 'reason' | 'reviewOn' | 'finding';

const refuse = (message: string, mend: string, field: Asked = 'status'): Step =>
  failure({ field, message, mend });

/** The status that applicability alone gives, before anybody has acted. */
export const statusOfAnswer = {
  applies: 'open',
  'does not': 'does not apply',
  undecided: 'undecided',
} as const satisfies Record<Applicability, BulletinStatus>;

function judged(state: BulletinState, event: BulletinEvent & { type: 'judged' }): Step {
  const next = statusOfAnswer[event.answer];
  const isComputed = state.status === 'undecided' || state.status === 'does not apply';
  const isCorrectedOpen = state.status === 'open' && event.isCorrection;
  return isComputed || isCorrectedOpen ? to(next, event.why) : success(state);
}

function orderClosed({ requiredParts }: BulletinTerms, fitted: readonly FittedPart[]): Step {
  const told = fittedInWords(requiredParts, fitted);
  const lacking = partsLacking(requiredParts, fitted);
  if (lacking.length === 0)
    return to('done', told ? `order closed, ${told} fitted` : 'order closed');
  const asked = requiredPartsInWords(lacking);
  return to('open', `order closed with ${told ?? 'no revision'} on record, ${asked} is required`);
}

/** Who may refuse a bulletin of each kind; null is nobody. */
export const refusingRole: Record<BulletinKind, Role | null> = {
  'do not drive until done': null,
  mandatory: 'safety officer',
  recommended: 'fleet manager',
  information: 'fleet manager',
};

function refused(terms: BulletinTerms, event: BulletinEvent & { type: 'refused' }): Step {
  const role = refusingRole[terms.kind];
  if (role === null) {
    return refuse('a do-not-drive bulletin cannot be refused', 'Have the work done.');
  }
  if (event.role !== role) {
    return refuse(`a ${event.role} cannot refuse this bulletin`, `Ask a ${role}.`);
  }
  if (event.reason.trim() === '')
    return refuse('no reason given', 'Say why it is refused.', 'reason');
  if (event.reviewOn <= event.on) {
    const mend = `Choose a day after ${isoFromDay(event.on)}.`;
    return refuse('the review date has passed', mend, 'reviewOn');
  }
  return to('refused', event.reason.trim(), event.reviewOn);
}

function inspected(event: BulletinEvent & { type: 'inspected' }): Step {
  if (event.role !== 'technician') {
    return refuse(`a ${event.role} cannot record the inspection`, 'Ask a technician.');
  }
  if (event.finding.trim() === '')
    return refuse('no finding given', 'Say what was seen.', 'finding');
  return to('not needed', event.finding.trim());
}

/** Fitting the part in another revision than the bulletin asks for undoes the bulletin. */
function partFitted(
  terms: BulletinTerms,
  state: BulletinState,
  event: BulletinEvent & { type: 'part fitted' },
): Step {
  const isSettled = state.status === 'done' || state.status === 'not needed';
  const asked = terms.requiredParts.filter(({ part }) => part === event.part);
  const lacking = partsLacking(asked, [event]);
  if (!isSettled || lacking.length === 0) return success(state);
  const fitted = event.revision ?? 'without a revision on record';
  return to('open', `${event.part} ${fitted} fitted, ${requiredPartsInWords(lacking)} is required`);
}

function reviewed(state: BulletinState, on: DayNumber): Step {
  if (state.reviewOn === null || on >= state.reviewOn) return to('open', 'review date reached');
  return refuse('the review date is yet to come', `Wait for ${isoFromDay(state.reviewOn)}.`);
}

/**
 * The next status of a unit under a bulletin, or why the step is refused. Applicability is computed,
 * status is human: judging moves only what nobody has acted on, and never closes an open bulletin
 * unless the record itself was wrong. Superseded is final.
 *
 * Source: the fleet's own rules; common practice, no published source.
 * Example: `refused` on a do-not-drive bulletin is refused whoever asks.
 */
export function nextBulletinState(
  terms: BulletinTerms,
  state: BulletinState,
  event: BulletinEvent,
): Step {
  const { status } = state;
  const notFrom = (): Step =>
    refuse(`${event.type} does not follow ${status}`, 'Reload: the unit may have moved on.');
  if (status === 'superseded') return notFrom();
  switch (event.type) {
    case 'judged':
      return judged(state, event);
    case 'later issue':
      return to('superseded', `replaced by ${event.number}, issue ${event.issue}`);
    case 'order placed':
      return status === 'open' ? to('planned', 'order placed') : notFrom();
    case 'order withdrawn':
      return status === 'planned' ? to('open', 'order withdrawn') : notFrom();
    case 'order closed':
      return status === 'planned' ? orderClosed(terms, event.fitted) : notFrom();
    case 'inspected':
      return status === 'open' || status === 'planned' ? inspected(event) : notFrom();
    case 'refused':
      return status === 'open' ? refused(terms, event) : notFrom();
    case 'review date reached':
      return status === 'refused' ? reviewed(state, event.on) : notFrom();
    case 'part fitted':
      return partFitted(terms, state, event);
  }
}
