import { beforeAll, describe, expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { markCounts, rowsListed } from '@/db/reads/mark-counts';
import { type YardCursor, yardOrder } from '@/db/reads/yard-order';
import { placeInYard, yardPage } from '@/db/reads/yard-page';
import { yardRows } from '@/db/reads/yard-rows';
import { bulletin, bulletinUnit, limitSet, shed, unit, verdict } from '@/db/schema';
import { AccessDenied, type Actor } from '@/lib/access';
import { type Mark, marks } from '@/lib/analysis/assessment';
import { defaultLimits } from '@/lib/analysis/limits';
import { firstYardQuery, type YardQuery, yardSorts } from '@/lib/intake/yard-query';
import { onEachDatabase } from '../support/databases';
import { inventedAssessment } from '../support/invented-assessment';

interface Invented {
  readonly id: string;
  readonly shedId: 'river' | 'quay' | 'north';
  readonly make: string;
  readonly builtYear: number | null;
  readonly builtMonth: number | null;
  readonly mark: Mark | null;
  readonly isJudged: boolean;
  readonly edge: string | null;
  readonly idle: number | null;
  readonly readOn: string | null;
}

const sheds = { river: 'River shed', quay: 'Quay shed', north: 'North shed' } as const;
const shedIds = ['river', 'quay', 'north'] as const;
const day = (index: number) =>
  `2026-0${1 + (index % 9)}-${String(1 + (index % 28)).padStart(2, '0')}`;

/** 260 units with every mark, ties in every key and every key missing somewhere. */
const fleet: readonly Invented[] = Array.from({ length: 260 }, (_, index) => {
  const isLaidUp = index % 29 === 0;
  const isJudged = isLaidUp || index % 37 !== 5;
  return {
    id: String((index * 7919) % 10_000).padStart(4, '0'),
    shedId: shedIds[index % 3] ?? 'river',
    make: index % 4 === 0 ? 'Corvane' : 'Aldmoor',
    builtYear: index % 11 === 0 ? null : 2016 + (index % 8),
    builtMonth: index % 5 === 0 || index % 11 === 0 ? null : 1 + (index % 12),
    mark: isLaidUp || !isJudged ? null : (marks[index % marks.length] ?? null),
    isJudged,
    edge: !isJudged || index % 6 === 3 ? null : day(index >> 2),
    idle: !isJudged || index % 13 === 0 ? null : 60 + (index % 30),
    readOn: !isJudged || index % 17 === 0 ? null : day(index),
  };
});

const markShown = (one: Invented): Mark | null => (one.isJudged ? one.mark : 'Unread');

const actor = (role: Actor['role'], of: readonly string[] = []): Actor => ({
  personId: 'p',
  name: 'Ines Kood',
  role,
  shedIds: of,
  roleSince: new Date(0),
});
const manager = actor('fleet manager');
const all: YardQuery = { ...firstYardQuery, mark: null };

async function fill(db: Db): Promise<void> {
  await db.insert(shed).values(
    shedIds.map((id) => ({
      id,
      name: sheds[id],
      elevationM: 100,
      timeZone: 'America/Denver',
      pressureUnit: 'psi' as const,
      distanceUnit: 'mi' as const,
      bayHoursPerWeek: 20,
    })),
  );
  const { version, ...values } = defaultLimits;
  const at = new Date('2026-01-01T00:00:00Z');
  await db.insert(limitSet).values({
    version,
    values,
    effectiveFrom: '1970-01-01',
    source: 'test',
    reason: 'test',
    state: 'approved',
    proposedAt: at,
    decidedAt: at,
  });
  await db.insert(unit).values(
    fleet.map(({ id, shedId, make, builtYear, builtMonth }) => ({
      id,
      shedId,
      make,
      builtYear,
      builtMonth,
      model: 'P1',
      body: 'pickup' as const,
      odometerUnit: 'mi' as const,
      trackedFrom: '2024-01-01',
    })),
  );
  const judged = fleet.filter(({ isJudged }) => isJudged);
  const row = (one: Invented, isCurrent: boolean, mark: Mark | null) => ({
    unitId: one.id,
    isCurrent,
    mark,
    asOf: '2026-06-30',
    knownTo: 0,
    limitsVersion: 0,
    methodVersion: 'test',
    assessment: inventedAssessment(one.id, {
      mark,
      standing: mark === null ? 'laid up' : 'in use',
    }),
    judgedAt: at,
    earliestEdgeOn: one.edge,
    why: 'test',
    latestIdleKpa: one.idle,
    latestReadOn: one.readOn,
    score: null,
  });
  await db.insert(verdict).values(judged.map((one) => row(one, true, one.mark)));
  // Earlier verdicts must not be seen.
  await db.insert(verdict).values(judged.map((one) => row(one, false, 'Book in')));
}

type Rank = (one: Invented) => readonly (string | number | null)[];
const rankOf: Record<YardQuery['sort'], Rank> = {
  edge: ({ edge, id }) => [edge, id],
  mark: (one) => {
    const mark = markShown(one);
    return [mark === null ? marks.length : marks.indexOf(mark), one.edge, one.id];
  },
  unit: ({ id }) => [id],
  shed: ({ shedId, id }) => [sheds[shedId], id],
  idle: ({ idle, id }) => [idle, id],
  read: ({ readOn, id }) => [readOn, id],
};

/** The same order by other means: plain comparison in memory, what is missing last. */
function expected(query: YardQuery, sees: (one: Invented) => boolean = () => true): string[] {
  const rank = rankOf[query.sort];
  const turn = query.isDescending ? -1 : 1;
  const compare = (a: Invented, b: Invented): number => {
    const left = rank(a);
    const right = rank(b);
    for (const [at, mine] of left.entries()) {
      const other = right[at] ?? null;
      if (mine === other) continue;
      if (mine === null) return 1;
      if (other === null) return -1;
      return mine < other ? -turn : turn;
    }
    return 0;
  };
  return fleet
    .filter(sees)
    .filter((one) =>
      query.standing === 'in use' ? markShown(one) !== null : markShown(one) === null,
    )
    .filter((one) => query.mark === null || markShown(one) === query.mark)
    .toSorted(compare)
    .map(({ id }) => id);
}

async function listed(db: Db, who: Actor, query: YardQuery, limit = 33): Promise<string[]> {
  const found: string[] = [];
  let after: YardCursor | null = null;
  for (;;) {
    const page = await yardPage(db, who, query, { after, skip: 0, limit });
    found.push(...page.unitIds);
    if (page.unitIds.length < limit) return found;
    after = page.end;
  }
}

onEachDatabase('the yard', (db) => {
  beforeAll(() => fill(db()));

  describe.each(yardSorts)('sorted by %s', (sort) => {
    it.each([false, true])('pages hold every row once, in order (descending: %s)', async (down) => {
      for (const mark of [null, 'Book in', 'Unread'] as const) {
        const query = { ...all, mark, sort, isDescending: down };
        expect(await listed(db(), manager, query)).toEqual(expected(query));
      }
    });

    it('finds the place of every row and the page after a jump', async () => {
      const query = { ...all, sort };
      const order = expected(query);
      for (const at of [0, 1, 99, order.length - 1]) {
        expect(await placeInYard(db(), manager, query, order[at] ?? '')).toBe(at);
      }
      const top = await yardPage(db(), manager, query, { after: null, skip: 0, limit: 20 });
      const jump = await yardPage(db(), manager, query, { after: top.end, skip: 40, limit: 20 });
      expect(jump.unitIds).toEqual(order.slice(60, 80));
    });
  });

  it.each(yardSorts)('lists from the verdicts alone, sorted by %s', async (sort) => {
    expect((await markCounts(db(), manager, all)).isEachJudged).toBe(false);
    for (const isDescending of [false, true]) {
      const query = { ...all, sort, isDescending };
      const place = { after: null, skip: 0, limit: 300, isEachJudged: true };
      const judged = expected(query, ({ isJudged }) => isJudged || sort === 'shed');
      expect((await yardPage(db(), manager, query, place)).unitIds).toEqual(judged);
    }
  });

  it('counts every mark under the other filters', async () => {
    const query = { ...all, make: 'Corvane' };
    const counts = await markCounts(db(), manager, query);
    for (const mark of marks) {
      const units = fleet.filter((one) => one.make === 'Corvane' && markShown(one) === mark);
      expect(counts.byMark[mark]).toBe(units.length);
      const asked = { ...query, mark };
      expect(rowsListed(counts, asked)).toBe((await listed(db(), manager, asked)).length);
    }
  });

  it('narrows by the first characters of the unit', async () => {
    const found = await listed(db(), manager, { ...all, find: '04' });
    expect(found.length).toBeGreaterThan(0);
    expect(found.toSorted()).toEqual(
      expected(all)
        .filter((id) => id.startsWith('04'))
        .toSorted(),
    );
  });

  it('keeps a unit whose build month is unknown wherever its year allows it', async () => {
    const query = { ...all, builtFrom: '2018-06', builtTo: '2019-03' };
    const within = ({ builtYear, builtMonth }: Invented) =>
      builtYear !== null &&
      builtYear * 12 + (builtMonth ?? 12) >= 2018 * 12 + 6 &&
      builtYear * 12 + (builtMonth ?? 1) <= 2019 * 12 + 3;
    expect(await listed(db(), manager, query)).toEqual(expected(query, within));
  });

  it('lists laid-up units apart, without a mark', async () => {
    const query = { ...all, standing: 'laid up' } as const;
    const found = await listed(db(), manager, query);
    expect(found).toEqual(expected(query));
    expect(found.length).toBeGreaterThan(5);
    expect(await placeInYard(db(), manager, all, found[0] ?? '')).toBeNull();
  });

  it('narrows by the state of a bulletin', async () => {
    const [row] = await db()
      .insert(bulletin)
      .values({
        number: 'SB-14',
        issue: 'A',
        title: 'Pump seal',
        issuedOn: '2026-01-01',
        kind: 'recommended',
        rule: {},
        conditions: '',
        actions: '',
        hours: 1,
        source: 'test',
        enteredAt: new Date(0),
      })
      .returning();
    const open = expected(all).slice(3, 9);
    await db()
      .insert(bulletinUnit)
      .values(
        open.map((unitId) => ({
          bulletinId: row?.id ?? '',
          unitId,
          applicability: 'applies' as const,
          why: 'test',
          missing: [],
          status: 'open' as const,
          statusAt: new Date(0),
        })),
      );
    expect(await listed(db(), manager, { ...all, bulletin: 'open' })).toEqual(open);
    const rows = await yardRows(db(), open);
    expect(rows.map(({ unit: id, bulletinsOpen }) => [id, bulletinsOpen])).toEqual(
      open.map((id) => [id, 1]),
    );
  });

  it('shows a technician the units of the own sheds and no others', async () => {
    const tal = actor('technician', ['river', 'north']);
    const own = (one: Invented) => one.shedId !== 'quay';
    expect(await listed(db(), tal, all)).toEqual(expected(all, own));
    expect(await listed(db(), tal, { ...all, shed: 'quay' })).toEqual([]);
    expect(await listed(db(), actor('technician'), all)).toEqual([]);
    const foreign = fleet.find((one) => one.shedId === 'quay' && markShown(one) !== null);
    expect(await placeInYard(db(), tal, all, foreign?.id ?? '')).toBeNull();
    const counts = await markCounts(db(), tal, all);
    expect(rowsListed(counts, all)).toBe(expected(all, own).length);
  });

  it('refuses who may not see units', async () => {
    await expect(markCounts(db(), actor('admin'), all)).rejects.toThrow(AccessDenied);
    await expect(
      yardPage(db(), actor('admin'), all, { after: null, skip: 0, limit: 9 }),
    ).rejects.toThrow(AccessDenied);
  });
});

describe('the end of a page', () => {
  it('is taken only in the form of its order', () => {
    expect(yardOrder('edge', false).accepts(['2026-03-01', '0417'])).toBe(true);
    expect(yardOrder('edge', false).accepts(['infinity', '0417'])).toBe(true);
    expect(yardOrder('idle', false).accepts(['81.2', '0417'])).toBe(true);
    expect(yardOrder('edge', false).accepts(['2026-02-30', '0417'])).toBe(false);
    expect(yardOrder('edge', false).accepts(['0417'])).toBe(false);
    expect(yardOrder('idle', false).accepts(['', '0417'])).toBe(false);
    expect(yardOrder('unit', false).accepts(['\u0000'])).toBe(false);
  });
});
