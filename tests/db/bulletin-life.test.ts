import { and, eq, inArray, isNull } from 'drizzle-orm';
import { describe, expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { bulletinWorth } from '@/db/reads/bulletin-worth';
import { effectivity } from '@/db/reads/effectivity';
import { standDownPreview } from '@/db/reads/stand-down-preview';
import { unitBulletin } from '@/db/reads/unit-bulletin';
import { yardPage } from '@/db/reads/yard-page';
import type { BulletinDraft } from '@/db/record/store-bulletin';
import { sweepBulletins } from '@/db/record/sweep-bulletins';
import {
  bulletinUnit,
  fitment,
  jobTemplate,
  ledgerEntry,
  spell,
  unit,
  workTask,
} from '@/db/schema';
import { approveBulletin } from '@/db/writes/approve-bulletin';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import { finishWorkOrder } from '@/db/writes/finish-work-order';
import { inspectBulletin } from '@/db/writes/inspect-bulletin';
import { beginWorkOrder, placeWorkOrder, withdrawWorkOrder } from '@/db/writes/move-work-order';
import { raiseWorkOrder } from '@/db/writes/raise-work-order';
import { recordUnitFacts } from '@/db/writes/record-unit-facts';
import { refuseBulletin } from '@/db/writes/refuse-bulletin';
import { AccessDenied } from '@/lib/access';
import { firstYardQuery } from '@/lib/intake/yard-query';
import type { Result } from '@/lib/result';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-05-04T12:00:00Z');

function value<Value>(result: Result<Value, unknown>): Value {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

const draftFor = ({ shedId }: Fixture, change: Partial<BulletinDraft> = {}): BulletinDraft => ({
  number: `SB-${shedId}`,
  issue: '1',
  title: 'Pump seal',
  issuedOn: '2026-01-01',
  kind: 'recommended',
  dueOn: null,
  // The make is the fixture's own, so that no other test's units come under it.
  rule: {
    anyOf: [
      { make: [shedId], fitted: [{ part: 'pump', fact: 'revision', is: 'in', values: ['A'] }] },
    ],
  },
  conditions: 'The seal lets oil through.',
  actions: 'Fit revision C.',
  hours: 1,
  requiredParts: [{ part: 'pump', revisions: ['C'] }],
  source: 'invented',
  ...change,
});

/** Units of one make; the first two bear a pump of revision A, the third one nobody has read. */
async function fleet(db: Db) {
  const fixture = await makeFixture(db, 3);
  const [one = '', two = '', three = ''] = fixture.unitIds;
  for (const id of fixture.unitIds) {
    await db.update(unit).set({ make: fixture.shedId }).where(eq(unit.id, id));
  }
  await db.insert(fitment).values([
    { unitId: one, part: 'pump', revision: 'A', fittedOn: '2024-01-01' },
    { unitId: two, part: 'pump', revision: 'A', fittedOn: '2024-01-01' },
  ]);
  const manager = await fixture.person('fleet manager');
  const technician = await fixture.person('technician');
  const officer = await fixture.person('safety officer');
  const enter = async (change: Partial<BulletinDraft> = {}) =>
    value(await enterBulletin(db, { actor: manager, draft: draftFor(fixture, change), now }))
      .bulletinId;
  const pair = async (bulletinId: string, unitId: string) => {
    const [row] = await db
      .select()
      .from(bulletinUnit)
      .where(and(eq(bulletinUnit.bulletinId, bulletinId), eq(bulletinUnit.unitId, unitId)));
    return row;
  };
  const markOf = async (unitId: string) =>
    (
      await db.query.verdict.findFirst({
        where: (row, { and: both, eq: equals }) =>
          both(equals(row.unitId, unitId), equals(row.isCurrent, true)),
      })
    )?.mark;
  return { fixture, one, two, three, manager, technician, officer, enter, pair, markOf };
}

type Fleet = Awaited<ReturnType<typeof fleet>>;

async function placedOrder(
  db: Db,
  { fixture, manager }: Fleet,
  unitId: string,
  bulletinId: string,
) {
  const raised = value(
    await raiseWorkOrder(db, {
      actor: manager,
      unitId,
      why: 'bulletin',
      raisedFrom: 'bulletin',
      taskKinds: [],
      bulletinIds: [bulletinId],
      now,
    }),
  );
  const at = { actor: manager, orderId: raised.id, now };
  const { shedId } = fixture;
  const week = { shedId, week: '2026-W20', isPinned: false };
  return value(await placeWorkOrder(db, { ...at, seenVersion: raised.version, ...week }));
}

async function finish(db: Db, { technician }: Fleet, orderId: string, revision: string | null) {
  const order = await db.query.workOrder.findFirst({
    where: (row, { eq: equals }) => equals(row.id, orderId),
  });
  const seen = { actor: technician, orderId, now };
  const begun = value(await beginWorkOrder(db, { ...seen, seenVersion: order?.version ?? 0 }));
  const tasks = await db.select().from(workTask).where(eq(workTask.workOrderId, orderId));
  return value(
    await finishWorkOrder(db, {
      ...seen,
      seenVersion: begun.version,
      tasks: tasks.map(({ id }) => ({ taskId: id, state: 'done', struckWhy: null })),
      fitted: revision ? [{ part: 'pump', revision, dateCode: null, whyRemoved: 'bulletin' }] : [],
      foundCause: 'none shown',
      odometer: 80_000,
      now,
    }),
  );
}

onEachDatabase('a bulletin on a unit', (db) => {
  it('begins open or undecided, and a supplied fact decides it', async () => {
    const the = await fleet(db());
    const id = await the.enter();
    expect(await the.pair(id, the.one)).toMatchObject({ status: 'open' });
    expect(await the.pair(id, the.three)).toMatchObject({ status: 'undecided' });
    const fitted = [{ part: 'pump' as const, revision: 'A', dateCode: null }];
    const supplied = await recordUnitFacts(db(), {
      actor: the.technician,
      unitId: the.three,
      facts: { fitted },
      now,
    });
    expect(value(supplied).statusChanges).toMatchObject([{ from: 'undecided', to: 'open' }]);
    const corrected = await recordUnitFacts(db(), {
      actor: the.manager,
      unitId: the.three,
      facts: { fitted: [{ part: 'pump', revision: 'B', dateCode: null }] },
      now,
    });
    expect(value(corrected).statusChanges).toMatchObject([{ to: 'does not apply' }]);
  });

  it('tells every step with who and why, those of the record and of a later issue too', async () => {
    const the = await fleet(db());
    const id = await the.enter();
    const steps = async (unitId: string) =>
      (await unitBulletin(db(), the.manager, unitId, id))?.steps.map(
        ({ from, to, by, reason }) => [from, to, by, reason] as const,
      );
    const { name } = the.manager;
    expect(await steps(the.three)).toEqual([[null, 'undecided', name, 'bulletin entered']]);
    const fitted = [{ part: 'pump' as const, revision: 'A', dateCode: null }];
    const supply = { actor: the.technician, unitId: the.three, facts: { fitted }, now };
    value(await recordUnitFacts(db(), supply));
    await finish(db(), the, (await placedOrder(db(), the, the.three, id)).id, 'C');
    await the.enter({ issue: '2', supersedesId: id });
    expect(await steps(the.three)).toEqual([
      [null, 'undecided', name, 'bulletin entered'],
      ['undecided', 'open', the.technician.name, 'unit facts recorded'],
      ['open', 'planned', name, 'order placed'],
      ['planned', 'done', the.technician.name, 'order closed, C fitted'],
      ['done', 'superseded', name, expect.stringContaining('issue 2')],
    ]);
    // Judged together with others, by the night.
    const aged = { rule: { anyOf: [{ make: [the.fixture.shedId], ageMonths: { from: 12 } }] } };
    const old = await the.enter({ ...aged, number: `A-${the.fixture.shedId}` });
    const built = { builtYear: 2026, builtMonth: 5, builtDay: 1 };
    await db()
      .update(unit)
      .set(built)
      .where(inArray(unit.id, [the.one, the.two]));
    const later = new Date('2027-05-04T12:00:00Z');
    await db().transaction((tx) => sweepBulletins(tx, [{ id: the.one }, { id: the.two }], later));
    const swept = await unitBulletin(db(), the.manager, the.two, old);
    expect(swept?.steps).toMatchObject([
      { from: null, to: 'undecided' },
      { from: 'undecided', to: 'open', by: null, reason: 'sweep' },
    ]);
  });

  it('is planned, open again when withdrawn, and done with who, order and revision', async () => {
    const the = await fleet(db());
    const id = await the.enter();
    const first = await placedOrder(db(), the, the.one, id);
    expect(await the.pair(id, the.one)).toMatchObject({
      status: 'planned',
      statusBy: the.manager.personId,
      workOrderId: first.id,
    });
    const at = { actor: the.manager, orderId: first.id, seenVersion: first.version, now };
    value(await withdrawWorkOrder(db(), { ...at, why: 'no part' }));
    expect(await the.pair(id, the.one)).toMatchObject({ status: 'open' });
    const second = await placedOrder(db(), the, the.one, id);
    await finish(db(), the, second.id, 'C');
    expect(await the.pair(id, the.one)).toMatchObject({
      status: 'done',
      statusBy: the.technician.personId,
      workOrderId: second.id,
      fittedRevision: 'C',
    });
    const noted = await db()
      .select({ kind: ledgerEntry.kind })
      .from(ledgerEntry)
      .where(and(eq(ledgerEntry.unitId, the.one), eq(ledgerEntry.kind, 'bulletin status')));
    expect(noted).toHaveLength(4);
  });

  it('cuts build ranges, each of which the yard lists by its name', async () => {
    const { fixture, one, two, three, manager, technician, enter } = await fleet(db());
    const built = async (id: string, builtYear: number, builtMonth: number) => {
      await db().update(unit).set({ builtYear, builtMonth }).where(eq(unit.id, id));
    };
    await built(one, 2018, 3);
    await built(two, 2019, 6);
    await built(three, 2019, 9);
    const make = [fixture.shedId];
    await enter({ rule: { anyOf: [{ make, built: { from: '2019-01-01', to: '2020-12-31' } }] } });
    const { unitIds: ids, rows } = await effectivity(db(), manager, new Date());
    const ranges = rows.filter((row) => row.make === fixture.shedId);
    const unitsOf = ranges.map(({ units }) => units.map((index) => ids[index]));
    expect(unitsOf).toEqual([[one], [two, three]]);
    for (const [at, { name }] of ranges.entries()) {
      const query = { ...firstYardQuery, mark: null, sort: 'unit' as const, range: name };
      const place = { after: null, skip: 0, limit: 100 };
      const { unitIds } = await yardPage(db(), manager, query, place);
      expect(unitIds.filter((id) => fixture.unitIds.includes(id))).toEqual(unitsOf[at]);
    }

    // Who does not see the oldest units still calls the others by the same name.
    const { shedId } = await makeFixture(db(), 1);
    await db().update(unit).set({ shedId }).where(eq(unit.id, one));
    const seen = await effectivity(db(), technician, new Date());
    expect(seen.rows).toEqual([{ ...ranges[1], units: [0, 1] }]);
    expect(seen.unitIds).toEqual([two, three]);
  });

  it('is not done by another revision, and an older one fitted later undoes it', async () => {
    const the = await fleet(db());
    const id = await the.enter();
    await finish(db(), the, (await placedOrder(db(), the, the.one, id)).id, 'B');
    expect(await the.pair(id, the.one)).toMatchObject({ status: 'open' });
    await finish(db(), the, (await placedOrder(db(), the, the.one, id)).id, 'C');
    expect(await the.pair(id, the.one)).toMatchObject({ status: 'done' });
    await db().insert(jobTemplate).values({
      kind: 'pump',
      title: 'Pump',
      hours: 2,
      tools: [],
      partNumbers: [],
      steps: [],
    });
    const raised = value(
      await raiseWorkOrder(db(), {
        actor: the.manager,
        unitId: the.one,
        why: 'noise',
        raisedFrom: 'by hand',
        taskKinds: ['pump'],
        now,
      }),
    );
    const place = { shedId: the.fixture.shedId, week: '2026-W21', isPinned: false };
    const at = { actor: the.manager, orderId: raised.id, seenVersion: raised.version, now };
    value(await placeWorkOrder(db(), { ...at, ...place }));
    await finish(db(), the, raised.id, 'A');
    expect(await the.pair(id, the.one)).toMatchObject({ status: 'open', fittedRevision: 'A' });
  });

  it('is not needed by a technician only, who must say what was seen', async () => {
    const the = await fleet(db());
    const bulletinId = await the.enter();
    const at = { bulletinId, unitId: the.one, now };
    const finding = 'Later seal fitted at the plant.';
    expect((await inspectBulletin(db(), { ...at, actor: the.technician, finding: ' ' })).ok).toBe(
      false,
    );
    expect((await inspectBulletin(db(), { ...at, actor: the.manager, finding })).ok).toBe(false);
    expect(value(await inspectBulletin(db(), { ...at, actor: the.technician, finding }))).toBe(
      'not needed',
    );
    const stranger = await (await makeFixture(db())).person('technician');
    await expect(inspectBulletin(db(), { ...at, actor: stranger, finding })).rejects.toThrow(
      AccessDenied,
    );
  });

  it('is refused by the role that its kind asks for, and comes back on the review date', async () => {
    const the = await fleet(db());
    const at = { unitId: the.one, reason: 'leaves the fleet soon', reviewOn: '2026-06-01', now };
    const mild = await the.enter();
    const hard = await the.enter({
      number: `M-${the.fixture.shedId}`,
      kind: 'mandatory',
      dueOn: '2026-05-20',
    });
    const refuse = (bulletinId: string, actor: typeof the.manager) =>
      refuseBulletin(db(), { ...at, bulletinId, actor });
    expect((await refuse(hard, the.manager)).ok).toBe(false);
    expect(await the.markOf(the.one)).toBe('Book in');
    expect(value(await refuse(hard, the.officer))).toBe('refused');
    expect(await the.markOf(the.one)).not.toBe('Book in');
    expect(value(await refuse(mild, the.manager))).toBe('refused');
    await expect(refuse(mild, the.technician)).rejects.toThrow(AccessDenied);
    await db().transaction((tx) =>
      sweepBulletins(tx, [{ id: the.one }], new Date('2026-05-31T12:00:00Z')),
    );
    expect(await the.pair(mild, the.one)).toMatchObject({ status: 'refused' });
    await db().transaction((tx) =>
      sweepBulletins(tx, [{ id: the.one }], new Date('2026-06-01T12:00:00Z')),
    );
    expect(await the.pair(mild, the.one)).toMatchObject({ status: 'open', reviewOn: null });
  });

  describe('a later issue', () => {
    it.each([
      [true, 'C', 'done'],
      [true, 'D', 'open'],
      [false, 'C', 'open'],
    ])('done carries: %s, asking for revision %s: %s', async (doesDoneCarry, revision, status) => {
      const the = await fleet(db());
      const supersedesId = await the.enter();
      await finish(db(), the, (await placedOrder(db(), the, the.one, supersedesId)).id, 'C');
      const rule = { anyOf: [{ make: [the.fixture.shedId] }] };
      const requiredParts = [{ part: 'pump', revisions: [revision] }] as const;
      const change = { rule, issue: '2', supersedesId, doesDoneCarry, requiredParts };
      const later = await the.enter(change);
      expect(await the.pair(supersedesId, the.one)).toMatchObject({ status: 'superseded' });
      expect(await the.pair(later, the.one)).toMatchObject({ status });
      expect(await the.pair(later, the.two)).toMatchObject({ status: 'open' });
      // The work was done when it was done, whichever issue it counts under.
      const inDays = (days: number) => new Date(now.getTime() + days * 86_400_000);
      await db()
        .update(bulletinUnit)
        .set({ statusAt: inDays(60) })
        .where(eq(bulletinUnit.bulletinId, later));
      const worthOf = (id: string) => bulletinWorth(db(), the.manager, id, inDays(99));
      const under = [await worthOf(supersedesId), await worthOf(later)];
      expect(under.map((worth) => worth?.units.done)).toEqual([1, status === 'done' ? 1 : 0]);
      const after = under.map((worth) => (worth?.failures.after.time ?? 0) * 365.25);
      expect(after).toEqual([99, status === 'done' ? 99 : 0].map((days) => expect.closeTo(days)));
      const again = await enterBulletin(db(), {
        actor: the.manager,
        draft: draftFor(the.fixture, { issue: '3', supersedesId }),
        now,
      });
      expect(again.ok).toBe(false);
    });
  });

  describe('do not drive until done', () => {
    const kind = 'do not drive until done' as const;
    const openSpells = (unitId: string) =>
      db()
        .select()
        .from(spell)
        .where(and(eq(spell.unitId, unitId), isNull(spell.releasedAt)));

    it('stands nothing down until a safety officer has approved what the preview showed', async () => {
      const the = await fleet(db());
      const bulletinId = await the.enter({ kind });
      expect(await openSpells(the.one)).toEqual([]);
      const seen = await standDownPreview(db(), the.officer, bulletinId);
      expect(seen.standDown).toEqual([the.one, the.two]);
      expect(seen.undecided).toContain(the.three);
      const at = { bulletinId, seenDigest: seen.digest, now };
      await expect(approveBulletin(db(), { ...at, actor: the.manager })).rejects.toThrow(
        AccessDenied,
      );
      const unseen = await approveBulletin(db(), { ...at, seenDigest: 'x', actor: the.officer });
      expect(unseen).toEqual({ ok: false, error: 'changed since the preview' });
      expect(await openSpells(the.one)).toEqual([]);
      expect(value(await approveBulletin(db(), { ...at, actor: the.officer }))).toEqual({
        stoodDown: 2,
      });
      for (const unitId of [the.one, the.two]) {
        expect(await openSpells(unitId)).toMatchObject([
          { cause: 'do-not-drive bulletin', bulletinId, readingId: null },
        ]);
        expect(await the.markOf(unitId)).toBe('Out of service');
      }
      expect(await openSpells(the.three)).toEqual([]);
      expect(await approveBulletin(db(), { ...at, actor: the.officer })).toEqual({
        ok: false,
        error: 'approved already',
      });
    });

    it('stands a unit down when the fact that was missing arrives, and cannot be refused', async () => {
      const the = await fleet(db());
      const bulletinId = await the.enter({ kind });
      const { digest } = await standDownPreview(db(), the.officer, bulletinId);
      const approve = { actor: the.officer, bulletinId, seenDigest: digest, now };
      value(await approveBulletin(db(), approve));
      const fitted = [{ part: 'pump' as const, revision: 'A', dateCode: null }];
      const supply = { actor: the.technician, unitId: the.three, facts: { fitted }, now };
      value(await recordUnitFacts(db(), supply));
      expect(await openSpells(the.three)).toHaveLength(1);
      for (const actor of [the.manager, the.officer]) {
        const refused = await refuseBulletin(db(), {
          actor,
          bulletinId,
          unitId: the.one,
          reason: 'too busy',
          reviewOn: '2026-06-01',
          now,
        });
        expect(refused.ok).toBe(false);
      }
    });

    it('approves no other kind', async () => {
      const the = await fleet(db());
      const bulletinId = await the.enter();
      const { digest } = await standDownPreview(db(), the.officer, bulletinId);
      const approve = { actor: the.officer, bulletinId, seenDigest: digest, now };
      expect(await approveBulletin(db(), approve)).toEqual({
        ok: false,
        error: 'not a do-not-drive bulletin',
      });
    });
  });
});
