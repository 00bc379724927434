import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { and, count, eq, like } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { importBulletinFile } from '@/app/_cli/import-bulletin-file';
import type { Db } from '@/db/client';
import { bulletinColumnsFor, rememberBulletinColumns } from '@/db/imports/remembered-mapping';
import { bulletinWorth } from '@/db/reads/bulletin-worth';
import { noticeOfBulletin } from '@/db/reads/notice-of-bulletin';
import { previewRule } from '@/db/reads/preview-rule';
import { undecidedCounts, undecidedFacts } from '@/db/reads/undecided-facts';
import { judgeUnit } from '@/db/record/judge-unit';
import { bulletin, bulletinUnit, fitment, ledgerEntry, unit, verdict } from '@/db/schema';
import { attachNotice } from '@/db/writes/attach-notice';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import { importBulletins } from '@/db/writes/import-bulletins';
import { AccessDenied } from '@/lib/access';
import { leftOut } from '@/lib/intake/bulletin-columns';
import type { BulletinRead } from '@/lib/intake/bulletin-rows';
import type { Result } from '@/lib/result';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-05-04T12:00:00Z');

function value<Value>(result: Result<Value, unknown>): Value {
  if (!result.ok) throw new Error(JSON.stringify(result.error));
  return result.value;
}

const readOf = ({ shedId }: Fixture, change: Partial<BulletinRead> = {}): BulletinRead => ({
  line: 2,
  number: `I-${shedId}`,
  issue: '1',
  title: 'Pump seal',
  issuedOn: '2026-01-01',
  kind: 'recommended',
  dueOn: null,
  conditions: 'The seal lets oil through.',
  actions: 'Fit revision C.',
  hours: 1,
  requiredParts: [{ part: 'pump', revisions: ['C'] }],
  source: 'invented',
  supersedes: null,
  doesDoneCarry: false,
  rule: {
    anyOf: [
      { make: [shedId], fitted: [{ part: 'pump', fact: 'revision', is: 'in', values: ['A'] }] },
    ],
  },
  ...change,
});

async function fleet(db: Db) {
  const fixture = await makeFixture(db, 2);
  const [one = '', two = ''] = fixture.unitIds;
  for (const id of fixture.unitIds) {
    await db.update(unit).set({ make: fixture.shedId }).where(eq(unit.id, id));
  }
  await db.insert(fitment).values({ unitId: one, part: 'pump', revision: 'A' });
  const manager = await fixture.person('fleet manager');
  const technician = await fixture.person('technician');
  const onRecord = () =>
    db
      .select({ id: bulletin.id, issue: bulletin.issue })
      .from(bulletin)
      .where(like(bulletin.number, `%${fixture.shedId}`));
  return { fixture, one, two, manager, technician, onRecord };
}

const entries = async (db: Db) => (await db.select({ n: count() }).from(ledgerEntry))[0]?.n;

onEachDatabase('bulletins from a file', (db) => {
  it('tries without keeping, imports once, and finds the same file done', async () => {
    const { fixture, manager, onRecord } = await fleet(db());
    const second = readOf(fixture, {
      line: 3,
      issue: '2',
      supersedes: { number: `I-${fixture.shedId}`, issue: '1' },
    });
    const file = { actor: manager, bulletins: [readOf(fixture), second], now };
    const before = await entries(db());
    const tried = value(await importBulletins(db(), { ...file, isDryRun: true }));
    expect(tried).toMatchObject({ entered: 2, unchanged: 0 });
    expect(await onRecord()).toEqual([]);
    expect(await entries(db())).toBe(before);
    expect(value(await importBulletins(db(), { ...file, isDryRun: false }))).toEqual(tried);
    expect(await onRecord()).toHaveLength(2);
    const after = await entries(db());
    const again = value(await importBulletins(db(), { ...file, isDryRun: false }));
    expect(again).toEqual({ entered: 0, unchanged: 2, unitsCovered: 0, toJudge: 0 });
    expect(await entries(db())).toBe(after);
  });

  it('keeps nothing where one bulletin is refused, and names its line', async () => {
    const { fixture, manager, onRecord } = await fleet(db());
    const orphan = readOf(fixture, {
      line: 7,
      number: `O-${fixture.shedId}`,
      supersedes: { number: 'never heard of', issue: '9' },
    });
    const bulletins = [readOf(fixture), orphan];
    const done = await importBulletins(db(), { actor: manager, bulletins, isDryRun: false, now });
    expect(done).toMatchObject({ ok: false, error: [{ line: 7, field: 'supersedes_number' }] });
    expect(await onRecord()).toEqual([]);
  });

  it('refuses other words under a number and issue on record', async () => {
    const { fixture, manager } = await fleet(db());
    const step = { actor: manager, isDryRun: false, now };
    value(await importBulletins(db(), { ...step, bulletins: [readOf(fixture)] }));
    const changed = readOf(fixture, { actions: 'Fit revision D.' });
    const done = await importBulletins(db(), { ...step, bulletins: [changed] });
    expect(done).toMatchObject({ ok: false, error: [{ line: 2, field: 'number' }] });
  });

  it('is for the fleet manager', async () => {
    const { fixture, technician } = await fleet(db());
    const file = { actor: technician, bulletins: [readOf(fixture)], isDryRun: true, now };
    await expect(importBulletins(db(), file)).rejects.toThrow(AccessDenied);
  });

  it('is done by command: tried, refused with a file of reasons, then kept once', async () => {
    const { fixture, manager, onRecord } = await fleet(db());
    const folder = mkdtempSync(join(tmpdir(), 'bulletins-'));
    const [file, refused] = ['bulletins.csv', 'refused.csv'].map((name) => join(folder, name));
    if (!file || !refused) throw new Error('no folder');
    const header = 'number,issue,title,issued_on,kind,conditions,actions,hours,source,make\n';
    const row = `C-${fixture.shedId},1,Clip,2026-01-15,information,Loose.,Look.,0,Maker,${fixture.shedId}\n`;
    const as = `${manager.personId}@fleet.example`;
    const command = (isDryRun: boolean) =>
      importBulletinFile(db(), { file, as, refused, 'dry-run': isDryRun }, now);
    writeFileSync(file, header + row.replace('information', 'gossip'));
    const bad = await command(false);
    expect(bad.code).toBe(2);
    expect(bad.said).toContain('line 2, kind: ');
    expect(readFileSync(refused, 'utf8')).toContain('\r\n2,kind,gossip,');
    writeFileSync(file, header + row);
    const tried = await command(true);
    expect(tried.said).toContain('It would be: 1 new, 0 unchanged, 2 units');
    expect(await onRecord()).toEqual([]);
    expect((await command(false)).said).toContain('1 new, 0 unchanged, 2 units');
    expect((await command(false)).said).toContain('0 new, 1 unchanged');
    expect(await onRecord()).toHaveLength(1);
    const technician = await fixture.person('technician');
    const by = { file, as: `${technician.personId}@fleet.example`, 'dry-run': false };
    await expect(importBulletinFile(db(), by, now)).rejects.toThrow(AccessDenied);
    await expect(importBulletinFile(db(), { ...by, as: 'nobody' }, now)).rejects.toThrow('Nobody');
    rmSync(folder, { recursive: true });
  });

  it('remembers what people said of the columns of a file, a column left out with them', async () => {
    const { fixture } = await fleet(db());
    const header = ['number', 'Brand', `Remark of ${fixture.shedId}`];
    expect(await bulletinColumnsFor(db(), header)).toEqual({
      held: ['number', '', ''],
      isRemembered: false,
    });
    for (const brand of ['engine', 'make']) {
      const held = ['number', brand, leftOut];
      await rememberBulletinColumns(db(), header, held, now);
      expect(await bulletinColumnsFor(db(), header)).toEqual({ held, isRemembered: true });
    }
  });

  it('lists what is missing, by whom it can be got', async () => {
    const { fixture, two, manager, technician } = await fleet(db());
    const bulletins = [readOf(fixture)];
    value(await importBulletins(db(), { actor: manager, bulletins, isDryRun: false, now }));
    const place = { limit: 10 };
    const { facts } = await undecidedFacts(db(), technician, place);
    expect(facts).toMatchObject([
      {
        unitId: two,
        fact: 'pump revision',
        whoCanGetIt: 'technician',
        bulletins: [`I-${fixture.shedId} issue 1`],
      },
    ]);
    expect(await undecidedCounts(db(), technician)).toMatchObject([
      { shedId: fixture.shedId, units: 1 },
    ]);
    const stranger = await (await makeFixture(db())).person('technician');
    expect((await undecidedFacts(db(), stranger, place)).facts).toEqual([]);
    expect(await undecidedCounts(db(), stranger)).toEqual([]);
  });

  it('previews counts and, for a mandatory one, the marks', async () => {
    const { fixture, one, manager } = await fleet(db());
    await db().transaction((tx) =>
      judgeUnit(tx, { unitId: one, actor: manager, now, because: 'test' }),
    );
    const { rule } = readOf(fixture);
    const terms = { rule, number: 'X', requiredParts: [] } as const;
    const draft = { ...terms, kind: 'mandatory', dueOn: '2026-06-01' } as const;
    const preview = value(await previewRule(db(), manager, draft, now));
    expect(preview.applies).toBe(1);
    expect(preview.marks).toMatchObject([{ unitId: one, to: 'Book in' }]);
    const mild = { ...draft, kind: 'information', dueOn: null } as const;
    expect(value(await previewRule(db(), manager, mild, now)).marks).toEqual([]);
    const stop = { ...draft, kind: 'do not drive until done', dueOn: null } as const;
    expect(value(await previewRule(db(), manager, stop, now)).marks).toMatchObject([
      { unitId: one, to: 'Out of service' },
    ]);
  });

  it('previews the marks that a later issue would change, as they then are', async () => {
    const { fixture, one, manager, onRecord } = await fleet(db());
    const mandatory = readOf(fixture, { kind: 'mandatory', dueOn: '2026-06-01' });
    const bulletins = [mandatory];
    value(await importBulletins(db(), { actor: manager, bulletins, isDryRun: false, now }));
    const supersedesId = (await onRecord())[0]?.id ?? '';
    const { line: _, supersedes: __, ...words } = mandatory;
    const narrowed = { anyOf: [{ make: ['Nobody'] }] };
    const draft = { ...words, issue: '2', rule: narrowed, supersedesId };
    const [change, ...others] = value(await previewRule(db(), manager, draft, now)).marks;
    expect(others).toEqual([]);
    expect(change).toMatchObject({ unitId: one, from: 'Book in' });
    expect(change?.to).not.toBe('Book in');
    // As before where it still covers the unit, and the work is still to be done.
    const same = { ...words, issue: '2', supersedesId };
    expect(value(await previewRule(db(), manager, same, now)).marks).toEqual([]);
    await db()
      .update(bulletinUnit)
      .set({ status: 'done' })
      .where(eq(bulletinUnit.bulletinId, supersedesId));
    await db().update(fitment).set({ revision: 'C' }).where(eq(fitment.unitId, one));
    const carried = { ...same, rule: { anyOf: [{ make: [fixture.shedId] }] }, doesDoneCarry: true };
    const [carriedOver] = value(await previewRule(db(), manager, carried, now)).marks.filter(
      ({ unitId }) => unitId === one,
    );
    expect(carriedOver?.to).not.toBe('Book in');
    value(await enterBulletin(db(), { actor: manager, draft, now }));
    const [judged] = await db()
      .select({ mark: verdict.mark })
      .from(verdict)
      .where(and(eq(verdict.unitId, one), eq(verdict.isCurrent, true)));
    expect(judged?.mark).toBe(change?.to);
  });

  it('keeps a notice byte for byte, replaces it, and refuses what is none', async () => {
    const { fixture, manager, technician, onRecord } = await fleet(db());
    const bulletins = [readOf(fixture)];
    value(await importBulletins(db(), { actor: manager, bulletins, isDryRun: false, now }));
    const bulletinId = (await onRecord())[0]?.id ?? '';
    const content = new TextEncoder().encode('%PDF-1.7\n\u0000\u00ff\n%%EOF\n');
    const attach = { actor: manager, bulletinId, name: 'SB.pdf', content, now };
    expect(value(await attachNotice(db(), attach))).toEqual({ name: 'SB.pdf' });
    const kept = await noticeOfBulletin(db(), technician, bulletinId);
    expect([...(kept?.content ?? [])]).toEqual([...content]);
    const html = new TextEncoder().encode('<script>%%EOF</script>');
    expect((await attachNotice(db(), { ...attach, content: html })).ok).toBe(false);
    value(await attachNotice(db(), { ...attach, name: 'later.pdf' }));
    expect((await noticeOfBulletin(db(), technician, bulletinId))?.name).toBe('later.pdf');
    await expect(attachNotice(db(), { ...attach, actor: technician })).rejects.toThrow(
      AccessDenied,
    );
    const nowhere = '00000000-0000-4000-8000-000000000000';
    expect((await attachNotice(db(), { ...attach, bulletinId: nowhere })).ok).toBe(false);
  });

  it('counts failures of the part before and after, and leaves undecided units out', async () => {
    const { fixture, one, manager, onRecord } = await fleet(db());
    const bulletins = [readOf(fixture)];
    value(await importBulletins(db(), { actor: manager, bulletins, isDryRun: false, now }));
    const bulletinId = (await onRecord())[0]?.id ?? '';
    await db()
      .update(bulletinUnit)
      .set({ status: 'done', statusAt: new Date('2026-01-01T12:00:00Z') })
      .where(eq(bulletinUnit.unitId, one));
    const removed = { unitId: one, whyRemoved: 'failed' as const };
    await db()
      .insert(fitment)
      .values([
        { ...removed, part: 'pump', removedOn: '2025-06-01' },
        { ...removed, part: 'pump', removedOn: '2026-02-01' },
        { ...removed, part: 'belt', removedOn: '2025-06-01' },
      ]);
    const worth = await bulletinWorth(db(), manager, bulletinId, now);
    expect(worth?.units).toMatchObject({ done: 1, notDone: 0 });
    expect(worth?.failures.before.events).toBe(1);
    expect(worth?.failures.after.events).toBe(1);
    expect(worth?.failures.notCovered.events).toBe(0);
  });
});
