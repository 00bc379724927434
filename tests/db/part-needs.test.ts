import { expect, it } from 'vitest';
import { bayPlan } from '@/db/reads/bay-plan';
import { partNeeds } from '@/db/reads/part-needs';
import { jobTemplate, limitSet, verdict, workOrder, workTask } from '@/db/schema';
import type { Mark } from '@/lib/analysis/assessment';
import { defaultLimits } from '@/lib/analysis/limits';
import { dayFromIso, isoFromDay } from '@/lib/calendar';
import { onEachDatabase } from '../support/databases';
import { inventedAssessment } from '../support/invented-assessment';
import { makeFixture } from '../support/tarn-fixture';

/** A Monday. */
const today = dayFromIso('2026-07-06')!;
const now = new Date('2026-07-06T12:00:00Z');

onEachDatabase('parts that forecast work will need', (db) => {
  it('counts belts by the chance that they are due within the plan', async () => {
    const own = await makeFixture(db(), 5);
    const ines = await own.person('fleet manager');
    const { version, ...values } = defaultLimits;
    await db()
      .insert(limitSet)
      .values({
        ...{ version, values, effectiveFrom: '1970-01-01', source: 'test', reason: 'test' },
        ...{ state: 'approved', proposedAt: now, decidedAt: now },
      });
    await db()
      .insert(jobTemplate)
      .values({
        kind: 'belt',
        title: 'Belt',
        hours: 1,
        tools: [],
        partNumbers: ['BELT-1'],
        steps: [],
      })
      .onConflictDoNothing();
    const day = (after: number) => isoFromDay(today + after);
    const belts: readonly [Mark | null, number, number, number][] = [
      ['Holding', 31, 81, 131],
      ['Book in', -20, -20, -20],
      ['Holding', 31, 81, 131],
      [null, 31, 81, 131],
      ['Holding', 95, 150, 260],
    ];
    await db()
      .insert(verdict)
      .values(
        belts.map(([mark, earliest, due, latest], at) => ({
          unitId: own.unitIds[at]!,
          isCurrent: true,
          mark,
          asOf: day(0),
          knownTo: 0,
          limitsVersion: 0,
          methodVersion: 'test',
          assessment: inventedAssessment(own.unitIds[at]!, { mark }),
          judgedAt: now,
          why: 'test',
          latestReadOn: day(-9),
          beltEarliestOn: day(earliest),
          beltDueOn: day(due),
          beltLatestOn: day(latest),
        })),
      );
    const [order] = await db()
      .insert(workOrder)
      .values({
        unitId: own.unitIds[2]!,
        state: 'raised',
        why: 'belt',
        raisedFrom: 'belt',
        raisedAt: now,
      })
      .returning();
    await db().insert(workTask).values({
      workOrderId: order!.id,
      position: 1,
      kind: 'belt',
      title: 'Belt',
      hours: 1,
      partNumber: 'BELT-1',
    });

    const needs = await partNeeds(db(), ines, await bayPlan(db(), ines, today));
    const found = needs
      .filter(({ partNumber }) => partNumber === 'BELT-1')
      .map(({ neededOn, probability }) => [neededOn - today, Number(probability.toFixed(6))]);
    // The plan ends 91 days on: a fifth of the way from the middle (0.5) to the late edge (0.9).
    expect(found.sort()).toEqual([
      [0, 1],
      [0, 1],
      [31, 0.58],
    ]);
  });
});
