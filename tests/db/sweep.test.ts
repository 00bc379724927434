import { sql } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { sweepFleet, sweepLock } from '@/db/record/sweep';
import { shed, unit } from '@/db/schema';
import { onEachDatabase } from '../support/databases';

const day = (date: string) => new Date(`${date}T12:00:00Z`);
const plainly = { learns: false };

onEachDatabase('the sweep', (db) => {
  it('judges each unit once a day, however many instances call it', async () => {
    await db().insert(shed).values({
      id: 's',
      name: 'Sea shed',
      elevationM: 0,
      timeZone: 'UTC',
      pressureUnit: 'psi',
      distanceUnit: 'mi',
      bayHoursPerWeek: 20,
    });
    await db()
      .insert(unit)
      .values(
        Array.from({ length: 450 }, (_, k) => ({
          id: `U${String(k).padStart(4, '0')}`,
          shedId: 's',
          body: 'SUV' as const,
          odometerUnit: 'mi' as const,
          trackedFrom: '2026-01-01',
        })),
      );
    expect((await sweepFleet(db(), day('2026-05-04'), plainly)).judged).toBe(450);
    expect((await sweepFleet(db(), day('2026-05-04'), plainly)).judged).toBe(0);
    await Promise.all([1, 2, 3].map(() => sweepFleet(db(), day('2026-05-05'), plainly)));
    await sweepFleet(db(), day('2026-05-05'), plainly);
    const rows = await db().query.verdict.findMany({ columns: { asOf: true, isCurrent: true } });
    expect(rows.filter(({ isCurrent }) => isCurrent)).toHaveLength(450);
    expect(rows.filter(({ asOf }) => asOf === '2026-05-05')).toHaveLength(450);
    expect(rows).toHaveLength(900);
  });

  it('that is told to wait works once another instance is done', async () => {
    let letGo = () => {};
    const done = new Promise<void>((resolve) => {
      letGo = resolve;
    });
    let held: Promise<void> = done;
    await new Promise<void>((begun) => {
      held = db().transaction(async (tx) => {
        await tx.execute(sql`select pg_advisory_xact_lock(${sweepLock})`);
        begun();
        await done;
      });
    });
    const swept = sweepFleet(db(), day('2026-05-06'), { learns: false, waits: true });
    const isFirst = await Promise.race([
      swept.then(() => 'swept'),
      new Promise((resolve) => setTimeout(resolve, 300, 'waits')),
    ]);
    letGo();
    expect(isFirst).toBe('waits');
    expect((await swept).judged).toBe(450);
    await held;
  });

  it('leaves units laid up or never read with what is true of them', async () => {
    const rows = await db().query.verdict.findMany({
      columns: { mark: true },
      where: (row, { eq }) => eq(row.isCurrent, true),
    });
    expect(new Set(rows.map(({ mark }) => mark))).toEqual(new Set(['Unread']));
  });
});
