import { describe, expect, it } from 'vitest';
import { roles } from '@/lib/access';
import {
  type BulletinEvent,
  type BulletinKind,
  type BulletinStatus,
  type BulletinTerms,
  bulletinKinds,
  bulletinStatuses,
} from '@/lib/bulletins/bulletin-state';
import { nextBulletinState } from '@/lib/bulletins/bulletin-status';
import type { FittedPart } from '@/lib/bulletins/required-parts';
import { isDueWithin, opensSpell, previewStandDown } from '@/lib/bulletins/stand-down-by-bulletin';
import { statusUnderLaterIssue } from '@/lib/bulletins/status-under-later-issue';

const terms = (kind: BulletinKind = 'recommended'): BulletinTerms => ({
  kind,
  requiredParts: [{ part: 'pump', revisions: ['C'] }],
});
const pump = (revision: string | null) => [{ part: 'pump' as const, revision }];
const at = (status: BulletinStatus) => ({ status, reason: '', reviewOn: 120 });
const refusal = (role: (typeof roles)[number], reviewOn = 120) =>
  ({ type: 'refused', role, reason: 'unit leaves in May', on: 100, reviewOn }) as const;
const judged = (answer: 'applies' | 'does not' | 'undecided', isCorrection = false) =>
  ({ type: 'judged', answer, why: 'why', isCorrection }) as const;

/** Every event that could move a status, with the status it leads to from each one that it may leave. */
const table: [BulletinEvent, Partial<Record<BulletinStatus, BulletinStatus>>][] = [
  [judged('applies'), { undecided: 'open', 'does not apply': 'open' }],
  [judged('does not'), { undecided: 'does not apply' }],
  [judged('undecided'), { 'does not apply': 'undecided' }],
  [judged('does not', true), { undecided: 'does not apply', open: 'does not apply' }],
  [judged('undecided', true), { open: 'undecided', 'does not apply': 'undecided' }],
  [{ type: 'order placed' }, { open: 'planned' }],
  [{ type: 'order withdrawn' }, { planned: 'open' }],
  [{ type: 'order closed', fitted: pump('c ') }, { planned: 'done' }],
  [{ type: 'order closed', fitted: pump('B') }, { planned: 'open' }],
  [{ type: 'order closed', fitted: pump(null) }, { planned: 'open' }],
  [
    { type: 'inspected', role: 'technician', finding: 'seal of the later kind' },
    { open: 'not needed', planned: 'not needed' },
  ],
  [refusal('fleet manager'), { open: 'refused' }],
  [{ type: 'review date reached', on: 120 }, { refused: 'open' }],
  [
    { type: 'part fitted', part: 'pump', revision: 'B' },
    { done: 'open', 'not needed': 'open' },
  ],
  [
    { type: 'part fitted', part: 'pump', revision: null },
    { done: 'open', 'not needed': 'open' },
  ],
  [{ type: 'part fitted', part: 'pump', revision: 'C' }, {}],
  [{ type: 'part fitted', part: 'belt', revision: 'A' }, {}],
  [
    { type: 'later issue', number: 'SB-14', issue: '3' },
    Object.fromEntries(
      bulletinStatuses.filter((it) => it !== 'superseded').map((it) => [it, 'superseded']),
    ),
  ],
];

describe('status of a unit under a bulletin', () => {
  it.each(table)('%j moves what it may and nothing else', (event, moves) => {
    for (const status of bulletinStatuses) {
      const step = nextBulletinState(terms(), at(status), event);
      expect([status, step.ok ? step.value.status : status]).toEqual([
        status,
        moves[status] ?? status,
      ]);
    }
  });

  it('takes no step from superseded', () => {
    for (const [event] of table) {
      expect(nextBulletinState(terms(), at('superseded'), event).ok).toBe(false);
    }
  });

  it('lets each kind be refused by one role, do-not-drive by none', () => {
    const refusers = bulletinKinds.map((kind) =>
      roles.filter((role) => nextBulletinState(terms(kind), at('open'), refusal(role)).ok),
    );
    expect(refusers).toEqual([[], ['safety officer'], ['fleet manager'], ['fleet manager']]);
  });

  it('asks of a refusal a reason and a review date to come', () => {
    const refuse = (event: BulletinEvent) => nextBulletinState(terms(), at('open'), event);
    // Each refusal names the field to mend.
    expect(refuse(refusal('fleet manager', 100))).toMatchObject({ error: { field: 'reviewOn' } });
    const blank = refuse({ ...refusal('fleet manager'), reason: ' ' });
    expect(blank).toMatchObject({ error: { field: 'reason' } });
    const unseen = refuse({ type: 'inspected', role: 'technician', finding: ' ' });
    expect(unseen).toMatchObject({ error: { field: 'finding' } });
    expect(refuse(refusal('fleet manager', 101))).toMatchObject({ value: { reviewOn: 101 } });
  });

  it('reopens a refusal on its review date, not before', () => {
    const review = (on: number) =>
      nextBulletinState(terms(), at('refused'), { type: 'review date reached', on });
    expect([review(119).ok, review(120).ok]).toEqual([false, true]);
  });

  it('asks for no revision where the bulletin asks for none, nor for a part', () => {
    const closed = { type: 'order closed', fitted: pump(null) } as const;
    for (const requiredParts of [[], [{ part: 'pump' as const, revisions: [] }]]) {
      const any = { ...terms(), requiredParts };
      expect(nextBulletinState(any, at('planned'), closed)).toMatchObject({
        value: { status: 'done' },
      });
    }
  });

  it('is done only with every part that it asks for, each in one of its revisions', () => {
    const valve = { part: 'check valve' as const, revisions: ['2'] };
    const both = {
      ...terms(),
      requiredParts: [{ part: 'pump' as const, revisions: ['C', 'D'] }, valve],
    };
    const closedWith = (fitted: readonly FittedPart[]) =>
      nextBulletinState(both, at('planned'), { type: 'order closed', fitted });
    expect(closedWith([...pump('D'), { part: 'check valve', revision: '2' }])).toMatchObject({
      value: { status: 'done', reason: 'order closed, pump D, check valve 2 fitted' },
    });
    expect(closedWith(pump('D'))).toMatchObject({
      value: {
        status: 'open',
        reason: 'order closed with pump D on record, check valve 2 is required',
      },
    });
    const undone = { type: 'part fitted', part: 'check valve', revision: '1' } as const;
    expect(nextBulletinState(both, at('done'), undone)).toMatchObject({
      value: { status: 'open', reason: 'check valve 1 fitted, check valve 2 is required' },
    });
  });

  it('takes an inspection only from a technician, with a finding', () => {
    for (const role of roles) {
      const event = { type: 'inspected', role, finding: 'later seal' } as const;
      expect(nextBulletinState(terms(), at('open'), event).ok).toBe(role === 'technician');
    }
    const silent = { type: 'inspected', role: 'technician', finding: '' } as const;
    expect(nextBulletinState(terms(), at('open'), silent).ok).toBe(false);
  });
});

describe('a later issue', () => {
  const under = (
    earlier: BulletinStatus | null,
    { carries = true, answer = 'applies' as const, fitted = 'C' as string | null } = {},
  ) =>
    statusUnderLaterIssue(
      { requiredParts: terms().requiredParts, doesDoneCarry: carries },
      { answer, why: 'in range' },
      earlier && { state: at(earlier), fitted: pump(fitted) },
    ).status;

  it('carries done, and done alone, where its rule says so', () => {
    for (const status of bulletinStatuses) {
      expect([status, under(status)]).toEqual([status, status === 'done' ? 'done' : 'open']);
      expect(under(status, { carries: false })).toBe('open');
    }
    expect(under(null)).toBe('open');
  });

  it('does not carry work in a revision that it does not ask for', () => {
    expect(under('done', { fitted: 'B' })).toBe('open');
    expect(under('done', { fitted: null })).toBe('open');
  });

  it('leaves a unit out that its rule leaves out', () => {
    const left = statusUnderLaterIssue(
      { requiredParts: terms().requiredParts, doesDoneCarry: true },
      { answer: 'does not', why: 'built later' },
      { state: at('done'), fitted: pump('C') },
    );
    expect(left).toMatchObject({ status: 'does not apply', reason: 'built later' });
  });
});

describe('standing down by a bulletin', () => {
  const bulletin = { kind: 'do not drive until done', dueOn: null, isApproved: true } as const;

  it('needs the flag, the approval, and work still owed', () => {
    for (const kind of bulletinKinds) {
      for (const isApproved of [true, false]) {
        for (const status of bulletinStatuses) {
          expect(opensSpell({ kind, dueOn: null, isApproved }, status)).toBe(
            kind === bulletin.kind && isApproved && (status === 'open' || status === 'planned'),
          );
        }
      }
    }
  });

  it('shows whom it would stand down and whom it cannot tell', () => {
    const rows = bulletinStatuses.map((status) => ({ unit: status, status }));
    expect(previewStandDown(rows)).toEqual({
      standDown: ['open', 'planned'],
      undecided: ['undecided'],
    });
  });

  it('is due within the horizon up to its last day, and when overdue', () => {
    const mandatory = { kind: 'mandatory', dueOn: 191, isApproved: false } as const;
    const due = (asOf: number, status: BulletinStatus = 'open') =>
      isDueWithin(mandatory, status, asOf, 91);
    expect([due(99), due(100), due(300), due(100, 'done')]).toEqual([false, true, true, false]);
  });
});
