import { applyKey, type Key } from '@/lib/bay-card/apply-key';
import type { CouldNotField, CouldNotReason, Draft, EntryField, Step } from '@/lib/bay-card/draft';
import type { DraftAction } from '@/lib/bay-card/draft-action';
import type { FilledByTrace } from '@/lib/bay-card/filled-by-trace';
import { firstOpenStep, previousStep } from '@/lib/bay-card/next-step';
import { elapsedSeconds, holdSeconds, type Moment } from '@/lib/bay-card/watch';
import { pressureUnits } from '@/lib/measure';

/** Which entry the pad of a step fills. */
export const entryOf: Partial<Record<Step, EntryField>> = {
  idle: 'idle',
  raised: 'raised',
  recovery: 'recovery',
  lowest: 'lowest',
  odometer: 'odometer',
  held: 'heldAfter',
};

export const mostDigits = (field: EntryField): number => (field === 'odometer' ? 7 : 4);

/** A glove that touches twice stops no watch. */
const bounceSeconds = 0.3;

/** The draft after one touch. Going on means: to the first step that still asks for something. */
export function advanceDraft(draft: Draft, action: DraftAction): Draft {
  switch (action.type) {
    case 'take cautions':
      return onward({ ...draft, areCautionsTaken: true });
    case 'fit gauge':
      return onward({
        ...draft,
        isGaugeFitted: true,
        gaugeId: action.gaugeId,
        couldNot: without(draft.couldNot, 'idle', 'recovery', 'lowest', 'holdLoss'),
      });
    case 'choose gauge':
      return { ...draft, gaugeId: action.gaugeId, pressureUnit: action.unit };
    case 'see line':
      return onward({ ...draft, line: action.line, couldNot: without(draft.couldNot, 'line') });
    case 'feel pedal':
      return onward({ ...draft, pedal: action.pedal, couldNot: without(draft.couldNot, 'pedal') });
    case 'see belt':
      return onward({ ...draft, belt: action.belt });
    case 'key':
      return afterKey(draft, action.key, action.at);
    case 'next': {
      const field = entryOf[draft.step];
      const concern = action.concerns.find((one) => draft.step === 'check' || one.field === field);
      return concern ? { ...draft, asking: concern } : onward(draft);
    }
    case 'answer':
      return afterAnswer(draft, action.choice);
    case 'start watch':
      return afterStart(draft, action.at);
    case 'stop watch':
      return afterStop(draft, action.at);
    case 'fill from trace':
      return afterTrace(draft, action.filled);
    case 'hide page':
      return draft.watch ? { ...draft, watch: { ...draft.watch, wasHidden: true } } : draft;
    case 'could not':
      return { ...draft, asking: null, askingWhyNot: action.field };
    case 'give reason':
      return afterReason(draft, action.reason);
    case 'refit':
      return onward({
        ...draft,
        isClipTugged: true,
        pedal: action.isPedalNormal ? draft.pedal : 'hard',
      });
    case 'go to':
      return { ...draft, step: action.step, asking: null, askingWhyNot: null };
    case 'go back':
      return goneBack(draft);
  }
}

const onward = (draft: Draft): Draft => {
  const step = firstOpenStep(draft);
  return { ...draft, step, asking: null, askingWhyNot: null };
};

function goneBack(draft: Draft): Draft {
  if (draft.askingWhyNot || draft.asking) return { ...draft, askingWhyNot: null, asking: null };
  const isTiming = draft.watch?.times === 'recovery';
  if (isTiming && draft.step === 'presses') return { ...draft, watch: null };
  return { ...draft, step: previousStep(draft) ?? draft.step };
}

const without = (
  couldNot: Draft['couldNot'],
  ...fields: readonly CouldNotField[]
): Draft['couldNot'] =>
  Object.fromEntries(
    Object.entries(couldNot).filter(([field]) => !fields.includes(field as CouldNotField)),
  );

const asCouldNot = (field: EntryField): CouldNotField | null => {
  if (field === 'raised') return null;
  return field === 'heldAfter' ? 'holdLoss' : field;
};

const questionsOf: Partial<Record<EntryField, readonly string[]>> = {
  idle: ['unit of measure', 'decimal point', 'idle level'],
  recovery: ['recovery'],
  heldAfter: ['hold time'],
  odometer: ['odometer'],
};

/** A value keyed again is asked about again. */
const stillConfirmed = (confirmed: readonly string[], field: EntryField): readonly string[] =>
  confirmed.filter((one) => !questionsOf[field]?.some((id) => one.startsWith(id)));

function afterKey(draft: Draft, key: Key, at: Moment): Draft {
  const field = entryOf[draft.step];
  if (!field) return draft;
  const digits = applyKey(draft.entries[field], key, mostDigits(field));
  const reason = asCouldNot(field);
  const isNeedleRead = field === 'heldAfter' && draft.watch?.times === 'hold';
  return {
    ...draft,
    entries: { ...draft.entries, [field]: digits },
    traced: withoutTraced(draft, field),
    couldNot: reason ? without(draft.couldNot, reason) : draft.couldNot,
    confirmed: stillConfirmed(draft.confirmed, field),
    isRecoveryKeyed: field === 'recovery' ? true : draft.isRecoveryKeyed,
    asking: null,
    ...(isNeedleRead &&
      draft.watch && {
        holdTimeS: Math.min(
          3600,
          Math.max(holdSeconds, Math.round(elapsedSeconds(draft.watch, at))),
        ),
        watch: null,
      }),
  };
}

function afterStart(draft: Draft, at: Moment): Draft {
  const times = draft.step === 'hold' ? 'hold' : 'recovery';
  const started = { ...draft, watch: { times, start: at, wasHidden: false } } as const;
  if (times === 'recovery') return started;
  return onward({
    ...started,
    holdTimeS: null,
    entries: { ...draft.entries, heldAfter: '' },
    traced: withoutTraced(draft, 'heldAfter'),
    couldNot: without(draft.couldNot, 'holdLoss'),
  });
}

function afterStop(draft: Draft, at: Moment): Draft {
  const { watch } = draft;
  if (watch?.times !== 'recovery') return draft;
  const seconds = elapsedSeconds(watch, at);
  if (seconds < bounceSeconds) return draft;
  return onward({
    ...draft,
    watch: null,
    entries: { ...draft.entries, recovery: String(Math.round(seconds * 10)) },
    traced: withoutTraced(draft, 'recovery'),
    isRecoveryKeyed: false,
    couldNot: without(draft.couldNot, 'recovery'),
    confirmed: stillConfirmed(draft.confirmed, 'recovery'),
  });
}

const withoutTraced = (
  { traced = {} }: Draft,
  ...fields: readonly (EntryField | CouldNotField)[]
): Draft['traced'] =>
  Object.fromEntries(
    Object.entries(traced).filter(([field]) => !fields.includes(field as EntryField)),
  );

/** What the trace gives stands in place of what was keyed; what it could not give is asked as before. */
function afterTrace(draft: Draft, { entries, traced, holdTimeS, trace }: FilledByTrace): Draft {
  const fields = Object.keys(entries) as EntryField[];
  return onward({
    ...draft,
    entries: { ...draft.entries, ...entries },
    traced: { ...draft.traced, ...traced },
    trace,
    isRecoveryKeyed: entries.recovery === undefined && draft.isRecoveryKeyed,
    couldNot: without(draft.couldNot, ...fields.flatMap((field) => asCouldNot(field) ?? [])),
    confirmed: fields.reduce(stillConfirmed, draft.confirmed),
    ...(entries.heldAfter !== undefined && { holdTimeS }),
    watch: null,
  });
}

/** Without idle there is nothing for recovery, lowest and hold to be measured against. */
const measuredAgainstIdle = ['recovery', 'lowest', 'holdLoss'] as const;

function afterReason(draft: Draft, reason: CouldNotReason): Draft {
  const field = draft.askingWhyNot;
  if (!field) return draft;
  const fields: readonly CouldNotField[] =
    field === 'idle' ? ['idle', ...measuredAgainstIdle] : [field];
  const emptied = fields.map((one) => (one === 'holdLoss' ? 'heldAfter' : one));
  return onward({
    ...draft,
    couldNot: { ...draft.couldNot, ...Object.fromEntries(fields.map((one) => [one, reason])) },
    entries: {
      ...draft.entries,
      ...Object.fromEntries(emptied.filter((one) => one in draft.entries).map((one) => [one, ''])),
    },
    traced: withoutTraced(draft, ...emptied),
    ...(field === 'line' && { line: 'not seen' }),
    ...(field === 'pedal' && { pedal: null }),
    ...(fields.includes('holdLoss') && { holdTimeS: null, watch: null }),
    ...(field === 'recovery' && { watch: null }),
  });
}

/** A unit of measure answers for every pressure of the reading: one gauge, one face. */
function afterAnswer(draft: Draft, choice: string): Draft {
  const { asking } = draft;
  if (!asking) return draft;
  const answered = { ...draft, asking: null };
  const unit = pressureUnits.find((one) => one === choice);
  if (unit && unit !== draft.pressureUnit) return { ...answered, pressureUnit: unit };
  if (asking.id === null) return answered;
  if (asking.id === 'decimal point' && choice === asking.choices[0]) {
    return {
      ...answered,
      entries: { ...draft.entries, idle: `${draft.entries.idle}0` },
      traced: withoutTraced(draft, 'idle'),
    };
  }
  const emptied = (entry: EntryField, step: Step): Draft => ({
    ...answered,
    step,
    // The hold runs on while the odometer is keyed again.
    watch: entry === 'odometer' ? draft.watch : null,
    entries: { ...draft.entries, [entry]: '' },
    traced: withoutTraced(draft, entry),
  });
  if (choice === 'time it again') return emptied('recovery', 'presses');
  if (choice === 'hold again') return emptied('heldAfter', 'hold');
  if (choice === 'key it again') {
    return asking.field === 'idle' ? emptied('idle', 'idle') : emptied('odometer', 'odometer');
  }
  const confirmed = [...draft.confirmed, `${asking.id}: ${choice}`.slice(0, 60)];
  return draft.step === 'check' ? { ...answered, confirmed } : onward({ ...answered, confirmed });
}
