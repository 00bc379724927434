import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { analyseTrace, type TraceReading } from '@/lib/analysis/trace';
import { advanceDraft } from '@/lib/bay-card/advance-draft';
import { type Draft, newDraft } from '@/lib/bay-card/draft';
import { draftToPayload } from '@/lib/bay-card/draft-to-payload';
import { filledByTrace } from '@/lib/bay-card/filled-by-trace';
import {
  addPress,
  isMarked,
  markEngineOff,
  moveMark,
  noMarks,
  optionsOf,
  removePress,
  standingMarks,
  type TraceMarks,
} from '@/lib/bay-card/trace-marks';
import { measuredValues } from '@/lib/intake/measured-values';
import { parseReadingPayload } from '@/lib/intake/reading-payload';
import { parseTraceCsv } from '@/lib/intake/trace-csv';
import { fromKilopascals } from '@/lib/measure';

// Trace 8 is a leaking check valve at 10 Hz, simulated elsewhere; its truth stands in truth.csv beside it.
const figures = new URL('../../published/figures/traces/', import.meta.url);
const truthOf = (trace: string) =>
  readFileSync(new URL('truth.csv', figures), 'utf8')
    .split('\n')
    .map((line) => line.split(','))
    .find(([number]) => number === trace)!;
const samplesOf = (trace: string) => {
  const file = new URL(`trace_${trace.padStart(2, '0')}.csv`, figures);
  const parsed = parseTraceCsv(readFileSync(file, 'utf8'));
  if (!parsed.ok) throw new Error(parsed.error[0]!.message);
  return parsed.value.samples;
};
const samples = samplesOf('8');
const [, , , , , release, keyOff, , idle, lowest, , loss] = truthOf('8').map(Number);
const span = [0, samples.at(-1)!.t] as const;

const read = (marks: TraceMarks): TraceReading => {
  const result = analyseTrace(samples, optionsOf(marks));
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
};
const found = read(noMarks);
const standing = standingMarks(noMarks, found);

describe('marks on a trace', () => {
  it('stand where the analysis found them, in order of time', () => {
    expect(standing.map(({ id }) => id).slice(0, 5)).toEqual([
      'idle',
      'press 1',
      'press 2',
      'press 3',
      'press 4',
    ]);
    expect(Math.abs(standing[4]!.at - release!)).toBeLessThan(0.21);
    expect(isMarked(noMarks)).toBe(false);
  });

  it('change the figures when moved: what is marked stands in place of what was found', () => {
    const early = moveMark(noMarks, standing, 'idle', found.idleUntil - 3, span);
    expect(read(early).idleUntil).toBeCloseTo(found.idleUntil - 3, 1);
    expect(read(early).presses).toEqual(found.presses);
    const fewer = removePress(noMarks, standing, 'press 1');
    expect(read(fewer).presses).toHaveLength(3);
    const again = addPress(fewer, standingMarks(fewer, read(fewer)), span);
    expect(read(again).presses).toHaveLength(4);
    expect(isMarked(early) && isMarked(fewer)).toBe(true);
  });

  it('give the hold once the engine is marked off, as the truth of the trace has it', () => {
    const off = moveMark(
      markEngineOff(noMarks, standing, span),
      standingMarks(markEngineOff(noMarks, standing, span), found),
      'engine off',
      keyOff!,
      span,
    );
    const reading = read(off);
    expect(reading.keyOffFound).toBe('marked');
    expect(Math.abs(fromKilopascals(reading.holdLoss!, 'psi') - loss!)).toBeLessThan(0.1);
  });

  it('never pass each other, nor leave the trace', () => {
    const late = moveMark(noMarks, standing, 'press 2', 1e6, span);
    expect(late.presses![1]).toBeLessThan(standing[3]!.at);
    const early = moveMark(noMarks, standing, 'press 2', -1e6, span);
    expect(early.presses![1]).toBeGreaterThan(standing[1]!.at);
    expect(moveMark(noMarks, standing, 'idle', -5, span).idleUntil).toBeGreaterThanOrEqual(2);
    expect(moveMark(noMarks, standing, 'engine off', 1e6, span).keyOff).toBeLessThanOrEqual(
      span[1],
    );
  });

  it('say so when a mark leaves nothing to read', () => {
    const none = standing
      .filter(({ id }) => id.startsWith('press'))
      .reduce((marks) => removePress(marks, standingMarks(marks, null), 'press 1'), {
        ...noMarks,
        presses: found.presses,
      } as TraceMarks);
    const result = analyseTrace(samples, optionsOf(none));
    expect(result.ok ? null : result.error.rule).toBe('no presses');
    expect(standingMarks(none, null)).toEqual([]);
    expect(addPress(none, [], span).presses).toHaveLength(1);
  });
});

describe('a draft filled from a trace', () => {
  const moment = { origin: 0, monotonic: 0, wall: 0 };
  const fresh: Draft = {
    ...newDraft({
      id: '0b8e4d3e-6f0a-4b7e-9c55-0d9d4c1a7f10',
      unitId: 'T-001',
      signedBy: 'tal',
      signerName: 'Tal',
      isProof: false,
      gaugeId: null,
      pressureUnit: 'psi',
      distanceUnit: 'mi',
    }),
    step: 'trace',
    areCautionsTaken: true,
    line: 'dry',
    isGaugeFitted: true,
  };
  const reading = read({ ...noMarks, keyOff: keyOff! });
  const filled = filledByTrace(reading, 'psi', true);
  const draft = advanceDraft(fresh, { type: 'fill from trace', filled });
  const payloadOf = (of: Draft) =>
    draftToPayload(of, { readAt: '2026-03-02T09:00:00Z', deviceCall: null });

  it('goes on to what no trace can tell: the pedal', () => {
    expect(draft.step).toBe('pedal');
  });

  it('sends the fuller figures, marked as from a trace, and keeps what else it told', () => {
    const parsed = parseReadingPayload(payloadOf(draft));
    if (!parsed.ok) throw new Error(JSON.stringify(parsed.error));
    const { keyed, trace, holdTimeS } = parsed.value;
    expect(keyed.idle).toMatchObject({ unit: 'psi', from: 'trace' });
    expect(Math.abs(Number(keyed.idle!.value) - idle!)).toBeLessThan(0.06);
    expect(Math.abs(Number(keyed.lowest!.value) - lowest!)).toBeLessThan(0.15);
    expect(keyed.heldAfter).toBeUndefined();
    expect(keyed.holdLoss?.from).toBe('trace');
    expect(holdTimeS).toBe(60);
    expect(trace).toMatchObject({ presses: 4, keyOff: 'marked', isCorrected: true });
    const measured = measuredValues(keyed);
    if (!measured.ok) throw new Error('the payload is understood');
    expect(Math.abs(fromKilopascals(measured.value.holdLoss!, 'psi') - loss!)).toBeLessThan(0.1);
  });

  it('drops the mark of a figure that is keyed again, and the trace with the last of them', () => {
    const idleAgain = advanceDraft(
      { ...draft, step: 'idle' },
      { type: 'key', key: 'delete', at: moment },
    );
    const { keyed } = payloadOf(idleAgain);
    expect(keyed.idle?.from).toBeUndefined();
    expect(keyed.lowest?.from).toBe('trace');
    const noIdle = advanceDraft(
      advanceDraft({ ...draft, step: 'idle' }, { type: 'could not', field: 'idle' }),
      { type: 'give reason', reason: 'ran out of time' },
    );
    expect(payloadOf(noIdle).trace).toBeUndefined();
    expect(payloadOf(noIdle).keyed).toEqual({});
  });

  it('leaves the hold to the watch where the trace has none', () => {
    const short = filledByTrace({ ...reading, holdLoss: null, holdTime: null }, 'psi', false);
    const after = advanceDraft(fresh, { type: 'fill from trace', filled: short });
    expect(after.entries.heldAfter).toBe('');
    expect(advanceDraft(after, { type: 'feel pedal', pedal: 'normal' }).step).toBe('hold');
  });

  it('is refused by the server’s door when it claims what no trace can hold', () => {
    const payload = payloadOf(draft);
    const wrong = { ...payload, trace: { ...payload.trace, presses: 0 } };
    const parsed = parseReadingPayload(wrong);
    expect(parsed.ok ? [] : parsed.error.map(({ field }) => field)).toEqual(['trace.presses']);
    expect(parseReadingPayload({ ...payload, trace: undefined }).ok).toBe(true);
  });
});
