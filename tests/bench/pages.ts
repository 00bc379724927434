import { asc } from 'drizzle-orm';
import { openDatabase } from '@/db/client';
import { bayPlan } from '@/db/reads/bay-plan';
import { bookInWithoutOrder } from '@/db/reads/book-in-without-order';
import { effectivity } from '@/db/reads/effectivity';
import { markCounts } from '@/db/reads/mark-counts';
import { partNeeds } from '@/db/reads/part-needs';
import { today as todayOf } from '@/db/reads/today';
import { unitOnSheet } from '@/db/reads/unit-on-sheet';
import { unitSheetBulletins } from '@/db/reads/unit-sheet-bulletins';
import { unitSheetHistory } from '@/db/reads/unit-sheet-history';
import { unitSheetOrders } from '@/db/reads/unit-sheet-orders';
import { unitSheetReadings } from '@/db/reads/unit-sheet-readings';
import { unitsToRead } from '@/db/reads/units-to-read';
import { yardChoices } from '@/db/reads/yard-choices';
import { yardPage } from '@/db/reads/yard-page';
import { yardRows } from '@/db/reads/yard-rows';
import { yardSeries } from '@/db/reads/yard-series';
import { unit } from '@/db/schema';
import type { Actor } from '@/lib/access';
import { localDay } from '@/lib/calendar';
import { firstYardQuery, type YardQuery, yardSorts } from '@/lib/intake/yard-query';
import { checkPlan } from '@/lib/planning/check-plan';
import { explainNotPlaced } from '@/lib/planning/explain-not-placed';
import { partsToOrder } from '@/lib/planning/parts-to-order';
import { randomFrom } from '@/tests/support/random';

const rounds = 60;
const actor: Actor = {
  personId: 'ines',
  name: 'Ines',
  role: 'fleet manager',
  shedIds: [],
  roleSince: new Date(0),
};

/** Figures of one view, in milliseconds. */
export interface Timed {
  readonly name: string;
  readonly p50: number;
  readonly p95: number;
}

async function timed(name: string, ask: (round: number) => Promise<unknown>): Promise<Timed> {
  for (let round = 0; round < 3; round++) await ask(round);
  const times: number[] = [];
  for (let round = 0; round < rounds; round++) {
    const begun = performance.now();
    await ask(round);
    times.push(performance.now() - begun);
  }
  times.sort((a, b) => a - b);
  const at = (share: number) => Math.round(times[Math.floor(share * (rounds - 1))]!);
  const [p50, p95] = [at(0.5), at(0.95)];
  console.log(
    `  ${name.padEnd(44)} p50 ${String(p50).padStart(6)} ms  p95 ${String(p95).padStart(6)} ms`,
  );
  return { name, p50, p95 };
}

/** What the views ask of the database and work out, on the fleet in DATABASE_URL: seed it first. */
export async function benchPages(): Promise<readonly Timed[]> {
  const url = process.env.DATABASE_URL;
  if (!url) {
    console.log('pages: not run, since DATABASE_URL names no seeded fleet.');
    return [];
  }
  const open = await openDatabase({ url });
  try {
    const { db } = open;
    const day = localDay(new Date(), 'UTC');
    const units = await db.select({ id: unit.id }).from(unit).orderBy(asc(unit.id));
    const random = randomFrom(1);
    const anyUnit = () => units[Math.floor(random.uniform() * units.length)]!.id;
    const found: Timed[] = [];
    const timeEach = async (name: string, ask: (round: number) => Promise<unknown>) => {
      found.push(await timed(name, ask));
    };
    console.log(`Server time of the views, ${units.length} units, ${rounds} requests each:`);

    const yard = async (query: YardQuery, skip = 0) => {
      const { isEachJudged } = await markCounts(db, actor, query);
      const place = { after: null, skip, limit: 100, isEachJudged };
      const { unitIds } = await yardPage(db, actor, query, place);
      await Promise.all([yardRows(db, unitIds), yardSeries(db, unitIds, [day - 730, day + 182])]);
    };
    await timeEach('yard, as it opens', async () => {
      await yardChoices(db, actor);
      await yard(firstYardQuery);
    });
    await timeEach('yard, all marks, every order in turn', (round) =>
      yard({
        ...firstYardQuery,
        mark: null,
        sort: yardSorts[round % yardSorts.length] ?? 'edge',
        isDescending: round % 2 === 1,
      }),
    );
    await timeEach('yard, all marks, a jump into the middle', () =>
      yard({ ...firstYardQuery, mark: null }, Math.floor(units.length / 2)),
    );
    await timeEach('yard, found by its first figures', () =>
      yard({ ...firstYardQuery, mark: null, find: anyUnit().slice(0, 3) }),
    );
    const { rows: ranges } = await effectivity(db, actor, new Date());
    await timeEach('yard, one build range in turn', (round) =>
      yard({ ...firstYardQuery, mark: null, range: ranges[round % ranges.length]?.name ?? null }),
    );
    await timeEach('unit sheet', async () => {
      const id = anyUnit();
      const sheet = await unitOnSheet(db, actor, id);
      if (!sheet) throw new Error(`unit ${id} is not on record`);
      await Promise.all([
        unitSheetReadings(db, id),
        unitSheetBulletins(db, id),
        unitSheetOrders(db, id),
        unitSheetHistory(db, id),
      ]);
    });
    await timeEach('bay plan', async () => {
      const { input, placement } = await bayPlan(db, actor, day);
      checkPlan(input, placement);
      explainNotPlaced(input, placement);
    });
    await timeEach('bay plan, its late panels', async () => {
      const plan = await bayPlan(db, actor, day);
      partsToOrder(await partNeeds(db, actor, plan), plan.stock, day);
      await bookInWithoutOrder(db, actor);
    });
    await timeEach('today', () => todayOf(db, actor, day));
    await timeEach('readings round', () => unitsToRead(db, actor, null));
    return found;
  } finally {
    await open.close();
  }
}
