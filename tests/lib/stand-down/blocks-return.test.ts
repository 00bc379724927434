import { describe, expect, it } from 'vitest';
import { blocksReturn } from '@/lib/stand-down/blocks-return';
import type { OrderFacts, ProofReading, SpellFacts } from '@/lib/stand-down/spell-facts';
import { emptyFacts, minute, start } from '../../support/stand-down-commands';

const at = (minutes: number) => new Date(start + minutes * minute);
const order = (state: OrderFacts['state'], change: Partial<OrderFacts> = {}): OrderFacts => ({
  number: 1042,
  state,
  finishedAt: state === 'finished' ? at(60) : null,
  waitingFor: null,
  waitingUntil: null,
  week: null,
  isForSpell: true,
  ...change,
});
const reading = (minutes: number, change: Partial<ProofReading> = {}): ProofReading => ({
  readingId: `r${minutes}`,
  readBy: 'reader',
  amendedBy: [],
  readAt: at(minutes),
  clockSkew: 0,
  isClockAccepted: false,
  failures: [],
  notMeasured: [],
  ...change,
});
const mended: Partial<SpellFacts> = {
  orders: [order('finished')],
  certificate: { kind: 'repaired', by: 'mender', at: at(70) },
};
const open = (change: Partial<SpellFacts>) =>
  blocksReturn({ ...emptyFacts, ...change }).filter(({ isDone }) => !isDone);
const words = (change: Partial<SpellFacts>) => open(change).map(({ what }) => what);
const last = ['Repair certified', 'Proof reading inside limits', 'Release by safety officer'];
const signature = last[2];

describe('what blocks the return', () => {
  it('from the start: work, certificate, proof, signature, and who can do the next', () => {
    expect(words({})).toEqual(['No work order yet', ...last]);
    expect(open({}).map(({ whoCanDoIt }) => whoCanDoIt)).toEqual([
      'fleet manager or technician',
      'technician',
      'technician or safety officer, not the certifier',
      'safety officer who neither certified nor read the proof',
    ]);
  });

  it.each([
    ['raised', {}, 'not placed in a week yet', 'fleet manager, or technician to begin it'],
    ['placed', { week: '2026-W05' }, 'placed in 2026-W05', 'technician'],
    ['begun', {}, 'begun, not finished', 'technician'],
    ['waiting', { waitingFor: 'a road test' }, 'waiting for a road test', 'technician'],
    [
      'waiting',
      { waitingFor: 'pump kit', waitingUntil: '2026-02-03' },
      'waiting for pump kit, due 2026-02-03',
      'technician',
    ],
  ] as const)('a work order that is %s', (state, change, what, who) => {
    const [first] = open({ orders: [order(state, change)] });
    expect(first).toMatchObject({ what: `Work order 1042: ${what}`, whoCanDoIt: who });
  });

  it('every order that is not finished, and none that is for something else and not begun', () => {
    const orders = [order('begun'), order('waiting', { number: 1043, waitingFor: 'belt' })];
    expect(words({ orders }).slice(0, 2)).toEqual([
      'Work order 1042: begun, not finished',
      'Work order 1043: waiting for belt',
    ]);
    expect(words({ orders: [order('raised', { isForSpell: false })] })[0]).toBe(
      'No work order yet',
    );
  });

  it('a bulletin that says not to drive', () => {
    expect(words({ ...mended, readings: [reading(80)], openBulletins: ['B-7'] })).toEqual([
      'Bulletin B-7 done',
      signature,
    ]);
  });

  it('a proof that is missing', () => {
    expect(words(mended)).toEqual(['Proof reading inside limits', signature]);
  });

  it('a proof read before the repair was finished', () => {
    expect(words({ ...mended, readings: [reading(59)] })).toEqual([
      'Proof reading: the last was read before the repair was finished',
      signature,
    ]);
  });

  it('a proof that failed, which voids the certificate too', () => {
    const failures = [{ measure: 'pedal', found: 'hard' }] as const;
    expect(words({ ...mended, readings: [reading(80, { failures })] })).toEqual([
      'Repair certified: void: proof failed, certify again',
      'Proof reading failed on 2026-01-05',
      signature,
    ]);
  });

  it.each([
    [{ readBy: 'mender' }, "by the certifier's own hand, another must read it"],
    [{ amendedBy: ['mender'] }, "by the certifier's own hand, another must read it"],
    [{ readBy: null }, 'its reader is no person on record'],
    [{ notMeasured: ['hold'] }, 'not complete'],
    [{ clockSkew: 301 }, "its device's clock was off, to be accepted or read again"],
  ] as const)('a proof that is not fit: %j', (change, what) => {
    const found = words({ ...mended, readings: [reading(80, change)] });
    expect(found).toEqual([`Proof reading: ${what}`, signature]);
  });

  it('a clock in doubt, for a safety officer to accept', () => {
    const [first] = open({ ...mended, readings: [reading(80, { clockSkew: 301 })] });
    expect(first?.whoCanDoIt).toBe('safety officer');
  });

  it('work after the certificate', () => {
    const orders = [order('finished', { finishedAt: at(75) })];
    expect(words({ ...mended, orders, readings: [reading(80)] })).toEqual([
      'Repair certified: void: later work, certify again',
      signature,
    ]);
  });

  it('one sound reading of two where no repair was necessary', () => {
    const certificate = { kind: 'repair not necessary', by: 'mender', at: at(10) } as const;
    expect(words({ certificate })).toEqual(['Proof reading inside limits', signature]);
    expect(words({ certificate, readings: [reading(20)] })).toEqual([
      'Two sound readings: 1 of 2',
      signature,
    ]);
    expect(words({ certificate, readings: [reading(20), reading(30)] })).toEqual([signature]);
  });

  it('the signature alone, and nothing once it is given', () => {
    const whole = { ...mended, readings: [reading(80)] };
    expect(words(whole)).toEqual([signature]);
    expect(words({ ...whole, releasedAt: at(90) })).toEqual([]);
  });
});
