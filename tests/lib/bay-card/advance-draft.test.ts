import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { advanceDraft, entryOf } from '@/lib/bay-card/advance-draft';
import type { Key } from '@/lib/bay-card/apply-key';
import { concernsOf } from '@/lib/bay-card/concern';
import { type Draft, newDraft, orderedSteps, sideSteps } from '@/lib/bay-card/draft';
import type { DraftAction } from '@/lib/bay-card/draft-action';
import { draftToPayload } from '@/lib/bay-card/draft-to-payload';
import { previousStep, stepLabel } from '@/lib/bay-card/next-step';
import type { Moment } from '@/lib/bay-card/watch';
import { parseReadingPayload } from '@/lib/intake/reading-payload';
import { toKilopascals } from '@/lib/measure';

const at = (seconds: number): Moment => ({
  origin: 0,
  monotonic: seconds * 1000,
  wall: seconds * 1000,
});
const context = { elevation: 300, expectedIdleSle: null, lastOdometer: null };
const start = newDraft({
  id: '00000000-0000-4000-8000-000000000001',
  unitId: '0417',
  signedBy: 'T1',
  signerName: 'T. One',
  isProof: false,
  gaugeId: null,
  pressureUnit: 'psi',
  distanceUnit: 'mi',
});
const submitted = { readAt: '2026-01-05T15:00:00Z', deviceCall: null };

/** Counts every touch from the bay list on; the pick of the unit is the first. */
class Thumb {
  taps = 1;
  draft: Draft = start;
  tap(action: DraftAction) {
    this.taps += 1;
    this.draft = advanceDraft(this.draft, action);
    return this;
  }
  key(digits: string, when = 0) {
    for (const key of digits) this.tap({ type: 'key', key: key as Key, at: at(when) });
    return this.tap({ type: 'next', concerns: concernsOf(this.draft, 20_000, context) });
  }
}

function happyPath(odometer = '88140'): Thumb {
  const thumb = new Thumb();
  thumb.tap({ type: 'take cautions' }).tap({ type: 'see line', line: 'dry' });
  thumb.tap({ type: 'fit gauge', gaugeId: 'G1' }).key('131');
  thumb.tap({ type: 'start watch', at: at(10) }).tap({ type: 'stop watch', at: at(16.83) });
  thumb.key('105').tap({ type: 'feel pedal', pedal: 'normal' });
  thumb
    .tap({ type: 'start watch', at: at(30) })
    .key(odometer)
    .key('129', 91);
  return thumb.tap({ type: 'refit', isPedalNormal: true });
}

describe('a reading without trouble', () => {
  // The bar of the bay card: bay list to "on record" in at most 30 taps; the last tap puts it there.
  it('takes at most 30 taps, with an odometer of five or six digits', () => {
    for (const odometer of ['88140', '188140']) {
      const thumb = happyPath(odometer);
      expect(thumb.draft.step).toBe('check');
      expect(thumb.taps + 1).toBeLessThanOrEqual(30);
    }
  });

  it('becomes a payload that the intake takes, with figures as keyed', () => {
    const payload = draftToPayload(happyPath().draft, submitted);
    expect(parseReadingPayload(payload)).toEqual({ ok: true, value: payload });
    expect(payload).toMatchObject({
      keyed: {
        idle: { value: '13.1', unit: 'psi' },
        lowest: { value: '10.5', unit: 'psi' },
        recovery: { value: '6.8', unit: 's' },
        heldAfter: { value: '12.9', unit: 'psi' },
        odometer: { value: '88140', unit: 'mi' },
      },
      isRecoveryKeyed: false,
      holdTimeS: 61,
      isClipTugged: true,
    });
  });

  it('flags seconds that were keyed', () => {
    const thumb = happyPath();
    thumb.tap({ type: 'go to', step: 'recovery' }).tap({ type: 'key', key: 'clear', at: at(0) });
    thumb.key('72');
    expect(thumb.draft.step).toBe('check');
    expect(draftToPayload(thumb.draft, submitted)).toMatchObject({ isRecoveryKeyed: true });
  });

  it('a second touch within 0.3 s stops no watch', () => {
    const timing = { ...start, step: 'presses' as const };
    const running = advanceDraft(timing, { type: 'start watch', at: at(1) });
    expect(advanceDraft(running, { type: 'stop watch', at: at(1.2) })).toBe(running);
  });
});

describe('odd values', () => {
  const atIdle = (digits: string, unit: Draft['pressureUnit'] = 'psi') => {
    const thumb = new Thumb();
    thumb.draft = { ...start, pressureUnit: unit, areCautionsTaken: true, line: 'dry' };
    thumb.draft = { ...thumb.draft, isGaugeFitted: true, step: 'idle' };
    return thumb.key(digits);
  };

  it('13.0 keyed as inHg asks for the unit of measure, and one tap mends all pressures', () => {
    const { draft } = atIdle('130', 'inHg');
    expect(draft.asking).toMatchObject({ id: 'unit of measure', choices: ['inHg', 'psi'] });
    expect(advanceDraft(draft, { type: 'answer', choice: 'psi' }).pressureUnit).toBe('psi');
    const kept = advanceDraft(draft, { type: 'answer', choice: 'inHg' });
    expect(kept).toMatchObject({ step: 'presses', confirmed: ['unit of measure: inHg'] });
  });

  it('more vacuum than there is air is refused, with the unit in which it could stand', () => {
    const { draft } = atIdle('255');
    expect(draft.step).toBe('idle');
    expect(draft.asking).toMatchObject({ id: null, choices: ['inHg'] });
  });

  it('13 on the pad is 1.3, and the card asks about the point', () => {
    const { draft } = atIdle('13');
    expect(draft.asking?.choices).toEqual(['13.0', '1.3']);
    const mended = advanceDraft(draft, { type: 'answer', choice: '13.0' });
    expect(mended.entries.idle).toBe('130');
  });

  describe('an idle value more than 2 psi from the unit’s own level', () => {
    // 13.1 psi at sea level; the shed lies at 300 m, where the same health shows 12.6 psi.
    const known = { ...context, expectedIdleSle: toKilopascals(13.1, 'psi') };
    const keyed = (idle: string, change: Partial<Draft> = {}): Draft => {
      const draft = { ...start, areCautionsTaken: true, line: 'dry' as const, isGaugeFitted: true };
      const entered = {
        ...draft,
        ...change,
        step: 'idle' as const,
        entries: { ...start.entries, idle },
      };
      return advanceDraft(entered, { type: 'next', concerns: concernsOf(entered, 20_000, known) });
    };

    it('takes one more touch, which goes with the reading', () => {
      const { asking } = keyed('91');
      expect(asking).toMatchObject({ id: 'idle level', field: 'idle' });
      expect(asking?.message).toContain('12.6 psi');
      const kept = advanceDraft(keyed('91'), { type: 'answer', choice: asking?.choices[0] ?? '' });
      expect(kept.step).toBe('presses');
      expect(draftToPayload(kept, submitted)).toMatchObject({
        keyed: { idle: { value: '9.1' } },
        confirmed: ['idle level: it shows 9.1 psi'],
      });
      expect(concernsOf(kept, 20_000, known)).toEqual([]);
    });

    it('is keyed again on an empty pad, and asked about again', () => {
      const again = advanceDraft(keyed('91'), { type: 'answer', choice: 'key it again' });
      expect(again).toMatchObject({ step: 'idle', entries: { idle: '' }, confirmed: [] });
    });

    it('is asked about above the level too, save after a repair', () => {
      const weak = { ...known, expectedIdleSle: toKilopascals(9, 'psi') };
      const askedOf = (isProof: boolean) => {
        const draft = { ...start, isProof, entries: { ...start.entries, idle: '131' } };
        return concernsOf(draft, 20_000, weak).map(({ id }) => id);
      };
      expect(askedOf(false)).toEqual(['idle level']);
      expect(askedOf(true)).toEqual([]);
    });

    it('asks one question of one figure', () => {
      const { asking } = keyed('130', { pressureUnit: 'inHg' });
      expect(asking?.id).toBe('unit of measure');
      const kept = advanceDraft(keyed('130', { pressureUnit: 'inHg' }), {
        type: 'answer',
        choice: 'inHg',
      });
      expect(concernsOf(kept, 20_000, known)).toEqual([]);
    });
  });

  it('the hold runs on while a doubted odometer is keyed again', () => {
    const thumb = happyPath();
    thumb.tap({ type: 'go to', step: 'hold' }).tap({ type: 'start watch', at: at(30) });
    thumb.tap({ type: 'go to', step: 'odometer' });
    const asking = {
      id: 'odometer',
      field: 'odometer',
      message: 'The odometer is lower than last time.',
      choices: ['new cluster', 'key it again'],
    } as const;
    thumb.tap({ type: 'next', concerns: [asking] });
    thumb.tap({ type: 'answer', choice: 'key it again' });
    expect(thumb.draft).toMatchObject({
      step: 'odometer',
      watch: { times: 'hold', start: at(30) },
    });
    expect(thumb.key('88140', 40).draft.step).toBe('held');
    expect(thumb.key('129', 93).draft.holdTimeS).toBe(63);
  });

  it('more left after the hold than at idle is refused', () => {
    const thumb = happyPath();
    thumb.tap({ type: 'go to', step: 'held' }).tap({ type: 'key', key: 'clear', at: at(0) });
    thumb.key('140');
    expect(thumb.draft.asking).toMatchObject({ id: null, field: 'heldAfter' });
  });
});

describe('could not', () => {
  it('without a gauge only the pedal, the odometer and the refitting are left', () => {
    const thumb = new Thumb();
    thumb.tap({ type: 'take cautions' }).tap({ type: 'see line', line: 'dry' });
    thumb.tap({ type: 'could not', field: 'idle' });
    thumb.tap({ type: 'give reason', reason: 'no gauge here' });
    expect(thumb.draft.step).toBe('pedal');
    thumb.tap({ type: 'feel pedal', pedal: 'went hard' });
    expect(thumb.draft.step).toBe('odometer');
    thumb.key('88140');
    expect(thumb.draft.step).toBe('refit');
    thumb.tap({ type: 'refit', isPedalNormal: true });
    const payload = draftToPayload(thumb.draft, submitted);
    expect(payload.couldNot).toMatchObject({ idle: 'no gauge here', holdLoss: 'no gauge here' });
    expect(parseReadingPayload(payload).ok).toBe(true);
  });

  it('a pedal that is hard after refitting is on the reading', () => {
    const thumb = happyPath().tap({ type: 'refit', isPedalNormal: false });
    expect(thumb.draft.pedal).toBe('hard');
  });
});

const keys = ['0', '1', '3', '5', '9', 'clear', 'delete'] as const;
const anyAction: fc.Arbitrary<DraftAction> = fc.oneof(
  fc.constant<DraftAction>({ type: 'take cautions' }),
  fc.constantFrom<DraftAction>(
    { type: 'see line', line: 'film' },
    { type: 'feel pedal', pedal: 'normal' },
    { type: 'fit gauge', gaugeId: null },
    { type: 'next', concerns: [] },
    { type: 'hide page' },
    { type: 'go back' },
    { type: 'see belt', belt: 'cracked' },
    { type: 'answer', choice: 'inHg' },
    { type: 'answer', choice: 'hold again' },
  ),
  fc.record({
    type: fc.constant('key' as const),
    key: fc.constantFrom(...keys),
    at: fc.nat(600).map(at),
  }),
  fc.record({
    type: fc.constantFrom('start watch' as const, 'stop watch' as const),
    at: fc.nat(600).map(at),
  }),
  fc.record({
    type: fc.constant('could not' as const),
    field: fc.constantFrom('line', 'idle', 'recovery', 'lowest', 'pedal', 'holdLoss', 'odometer'),
  }),
  fc.constant<DraftAction>({ type: 'give reason', reason: 'ran out of time' }),
  fc.record({
    type: fc.constant('go to' as const),
    step: fc.constantFrom(...orderedSteps, ...sideSteps),
  }),
  fc.boolean().map((isPedalNormal): DraftAction => ({ type: 'refit', isPedalNormal })),
);

describe('whatever is touched', () => {
  it('the draft survives being written down, and no touch leaves the card', () => {
    fc.assert(
      fc.property(fc.array(anyAction, { maxLength: 60 }), (touched) => {
        for (let draft = start, k = 0; k < touched.length; k++) {
          draft = advanceDraft(draft, touched[k] as DraftAction);
          expect(JSON.parse(JSON.stringify(draft))).toEqual(draft);
          expect([...orderedSteps, ...sideSteps]).toContain(draft.step);
          expect(stepLabel(draft)).toMatch(/^Step [1-7] of 7$/);
        }
      }),
      { numRuns: 2_000 },
    );
  });

  it('the check is reached onward only with every measurement made or its reason given', () => {
    fc.assert(
      fc.property(fc.array(anyAction, { maxLength: 80 }), (touched) => {
        let draft = start;
        for (const action of touched) {
          const before = draft.step;
          draft = advanceDraft(draft, action);
          const wentOn = draft.step === 'check' && before !== 'check';
          if (!wentOn || action.type === 'go to' || action.type === 'go back') continue;
          const { entries, couldNot } = draft;
          for (const [entry, reason] of [
            [entries.idle, couldNot.idle],
            [entries.recovery, couldNot.recovery],
            [entries.lowest, couldNot.lowest],
            [entries.heldAfter, couldNot.holdLoss],
            [entries.odometer, couldNot.odometer],
            [draft.pedal, couldNot.pedal],
          ]) {
            expect(Boolean(entry) || reason !== undefined).toBe(true);
          }
          expect(draft.isClipTugged && draft.areCautionsTaken).toBe(true);
          expect(draft.line).not.toBeNull();
        }
      }),
      { numRuns: 2_000 },
    );
  });

  it('from the check, Back leads to the first screen in as many touches as there are screens', () => {
    let { draft } = happyPath();
    const seen = [draft.step];
    while (previousStep(draft) !== null) {
      draft = advanceDraft(draft, { type: 'go back' });
      seen.push(draft.step);
    }
    expect(seen).toEqual(orderedSteps.filter((step) => step !== 'hold').toReversed());
  });

  it('only a step with a pad takes keys', () => {
    for (const step of [...orderedSteps, ...sideSteps]) {
      const draft = { ...start, step };
      const after = advanceDraft(draft, { type: 'key', key: '7', at: at(0) });
      expect(after.entries !== draft.entries).toBe(entryOf[step] !== undefined);
    }
  });
});
