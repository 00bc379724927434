import { type Draft, orderedSteps, type Step } from '@/lib/bay-card/draft';

type OrderedStep = (typeof orderedSteps)[number];

/** Whether a step has what it asks for, or a reason why not. */
const isDone: Record<OrderedStep, (draft: Draft) => boolean> = {
  cautions: ({ areCautionsTaken }) => areCautionsTaken,
  line: ({ line }) => line !== null,
  gauge: ({ isGaugeFitted, couldNot }) => isGaugeFitted || couldNot.idle !== undefined,
  idle: ({ entries, couldNot }) => entries.idle !== '' || couldNot.idle !== undefined,
  presses: ({ entries, couldNot }) => entries.recovery !== '' || couldNot.recovery !== undefined,
  lowest: ({ entries, couldNot }) => entries.lowest !== '' || couldNot.lowest !== undefined,
  pedal: ({ pedal, couldNot }) => pedal !== null || couldNot.pedal !== undefined,
  hold: ({ watch, entries, couldNot }) =>
    watch?.times === 'hold' || entries.heldAfter !== '' || couldNot.holdLoss !== undefined,
  odometer: ({ entries, couldNot }) => entries.odometer !== '' || couldNot.odometer !== undefined,
  held: ({ entries, couldNot }) => entries.heldAfter !== '' || couldNot.holdLoss !== undefined,
  refit: ({ isClipTugged }) => isClipTugged,
  check: () => false,
};

/** The first step that still asks for something; the check when none does. */
export const firstOpenStep = (draft: Draft): Step =>
  orderedSteps.find((step) => !isDone[step](draft)) ?? 'check';

const reachedFrom: Partial<Record<Step, Step>> = {
  trace: 'idle',
  raised: 'idle',
  recovery: 'presses',
  belt: 'check',
};

/** Steps that a "could not" left without anything to ask are passed over. Null leaves the card. */
export function previousStep(draft: Draft): Step | null {
  const from = reachedFrom[draft.step];
  if (from) return from;
  const before = orderedSteps.slice(0, orderedSteps.indexOf(draft.step as OrderedStep));
  return before.findLast((step) => !isSkipped(step, draft)) ?? null;
}

function isSkipped(step: OrderedStep, { couldNot }: Draft): boolean {
  if (step === 'presses' || step === 'lowest') return couldNot.idle !== undefined;
  if (step === 'hold') return true;
  return step === 'held' && couldNot.idle !== undefined;
}

const numbers: Record<Step, number> = {
  cautions: 1,
  line: 1,
  gauge: 2,
  idle: 2,
  trace: 2,
  raised: 2,
  presses: 3,
  recovery: 3,
  lowest: 4,
  pedal: 4,
  hold: 5,
  odometer: 5,
  held: 5,
  refit: 6,
  check: 7,
  belt: 7,
};

/** `Step 3 of 7`; for a proof reading `Proof 3 of 7`. */
export const stepLabel = ({ step, isProof }: Pick<Draft, 'step' | 'isProof'>): string =>
  `${isProof ? 'Proof' : 'Step'} ${numbers[step]} of 7`;
