// Time to preview and to enter bulletins against 50,000 units with a pump, a reading and a verdict each,
// and of the effectivity view under 200 of them, on the PostgreSQL of TEST_DATABASE_URL:
// node tests/support/with-cluster.mjs npx tsx --conditions=react-server tests/bench/enter-bulletin.ts
import { eq, sql } from 'drizzle-orm';
import type { Db } from '@/db/client';
import { bulletinFacts } from '@/db/reads/bulletin-facts';
import {
  effectivity,
  effectivityCells,
  effectivityTotals,
  unitsUnderBulletin,
} from '@/db/reads/effectivity';
import { previewRule } from '@/db/reads/preview-rule';
import { standDownPreview } from '@/db/reads/stand-down-preview';
import { undecidedCounts, undecidedFacts } from '@/db/reads/undecided-facts';
import type { BulletinDraft } from '@/db/record/store-bulletin';
import { sweepFleet } from '@/db/record/sweep';
import { person, unit } from '@/db/schema';
import { approveBulletin } from '@/db/writes/approve-bulletin';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import type { RangeRule } from '@/lib/bulletins/rule';
import { openTestServer } from '../support/databases';
import { chanceFrom, inventBulletins, inventFleet } from './bulletins';
import { putInventedFleet } from './put-invented-fleet';

const now = new Date('2025-11-25T12:00:00Z');
const chance = chanceFrom(20251125);
const fleet = inventFleet(chance);
const bulletins = inventBulletins(chance);
const open = await openTestServer();

async function timed<Value>(what: string, work: () => Promise<Value>): Promise<Value> {
  const started = performance.now();
  const value = await work();
  console.log(`  ${what.padEnd(52)}${(performance.now() - started).toFixed(0)} ms`);
  return value;
}

const draftOf = (number: string, anyOf: readonly RangeRule[]): BulletinDraft => ({
  number,
  issue: '1',
  title: 'Pump seal',
  issuedOn: '2025-11-01',
  kind: 'recommended',
  dueOn: null,
  rule: { anyOf },
  conditions: 'The seal lets oil through.',
  actions: 'Fit revision C.',
  hours: 1,
  requiredParts: [{ part: 'pump', revisions: ['C'] }],
  source: 'invented',
});
const byBuild = draftOf('by build', [
  {
    model: ['Alder 1', 'Cedar 2'],
    built: { from: '2018-01', to: '2020-06' },
    fitted: [{ part: 'pump', fact: 'revision', is: 'in', values: ['A', 'B'] }],
  },
]);
const byPlant = draftOf('by plant', [{ plant: ['R'] }]);
const bySequence = draftOf('by sequence', [
  { plant: ['R', 'S'], vinSequence: { from: '000100', to: '000700' } },
]);
const doNotDrive: BulletinDraft = {
  ...draftOf('do not drive', [{ model: ['Alder 1'], built: { from: '2019-01', to: '2022-12' } }]),
  kind: 'do not drive until done',
};
const byReading = draftOf('by reading', [{ symptom: { line: ['wet'], recoverySlowerThan: 28 } }]);

const wholeFleet = draftOf('whole fleet', [{ everyUnit: true }]);
const wholeMandatory: BulletinDraft = {
  ...draftOf('whole fleet, mandatory', [{ everyUnit: true }]),
  ...{ kind: 'mandatory', dueOn: '2026-01-15' },
};

/** By a safety officer. */
async function approveDoNotDrive(db: Db): Promise<void> {
  const role = 'safety officer';
  const email = 'officer@fleet.example';
  await db.insert(person).values({ id: 'o', name: 'Officer', email, badge: 'O', role });
  const officer = { personId: 'o', name: 'Officer', role, shedIds: [], roleSince: now } as const;
  const row = await db.query.bulletin.findFirst({
    where: (one, { eq }) => eq(one.number, doNotDrive.number),
  });
  if (!row) throw new Error('the do-not-drive bulletin is not on record');
  const seen = await standDownPreview(db, officer, row.id);
  await timed('do not drive: units to stand down shown', () =>
    standDownPreview(db, officer, row.id),
  );
  const approval = { actor: officer, bulletinId: row.id, seenDigest: seen.digest, now };
  const approved = await timed('do not drive: approved, stood down, on the ledger', () =>
    approveBulletin(db, approval),
  );
  if (!approved.ok) throw new Error(approved.error);
  console.log(`    it stands ${approved.value.stoodDown} units down`);
}

try {
  const { db } = open;
  const actor = await putInventedFleet(db, fleet, now);
  const enter = async (draft: BulletinDraft) => {
    const entered = await enterBulletin(db, { actor, draft, now });
    if (!entered.ok) throw new Error(JSON.stringify(entered.error));
    return entered.value;
  };
  console.log(`Bulletins against ${fleet.length} units in PostgreSQL`);
  const sweep = () => sweepFleet(db, now, { learns: false });
  await timed('every unit judged', sweep);
  await timed('every fact of every unit read', () => bulletinFacts(db));
  const drafts = [byBuild, byReading, bySequence, byPlant, wholeFleet, doNotDrive, wholeMandatory];
  for (const draft of drafts) {
    await timed(`${draft.number}: previewed, first time`, () => previewRule(db, actor, draft, now));
    await timed(`${draft.number}: previewed`, () => previewRule(db, actor, draft, now));
    const { unitsCovered } = await timed(`${draft.number}: entered, judged, on the ledger`, () =>
      enter(draft),
    );
    console.log(`    it touches ${unitsCovered} units`);
  }
  await timed('marks left to the sweep, judged', sweep);
  await approveDoNotDrive(db);

  const times: number[] = [];
  for (const { id, rule } of bulletins) {
    const begun = performance.now();
    await enter(draftOf(id, rule.anyOf));
    times.push(performance.now() - begun);
  }
  times.sort((one, other) => one - other);
  const at = (share: number) => Math.round(times[Math.floor(share * (times.length - 1))] ?? 0);
  console.log(`  ${times.length} entered one by one: p50 ${at(0.5)} ms, p95 ${at(0.95)} ms`);
  await db.execute(sql`analyze`);
  for (const which of ['first time', 'again', 'again']) {
    const ranges = await timed(`effectivity view, ${which}`, async () => {
      const { rows, unitIds } = await effectivity(db, actor, now);
      await Promise.all([
        effectivityTotals(db, actor),
        effectivityCells(db, unitIds, rows.slice(0, 60)),
      ]);
      return rows.length;
    });
    console.log(`    ${ranges} build ranges`);
  }
  const [first] = await db.query.bulletin.findMany({ limit: 1 });
  await db.update(unit).set({ engine: 'D9' }).where(eq(unit.id, '100'));
  await timed('effectivity view, after a fact has changed', () => effectivity(db, actor, now));
  await enter(draftOf('one more', [{ engine: ['D9'], model: ['Alder 1'] }]));
  await timed('effectivity view, after one more bulletin', () => effectivity(db, actor, now));
  const counts = await timed('undecided list, counted by shed', () => undecidedCounts(db, actor));
  console.log(`    ${counts.reduce((sum, { units }) => sum + units, 0)} units wait`);
  await timed('undecided list, first page', () => undecidedFacts(db, actor, { limit: 100 }));
  if (first) await timed('units of one bulletin', () => unitsUnderBulletin(db, actor, first.id));
} finally {
  await open.close();
}
