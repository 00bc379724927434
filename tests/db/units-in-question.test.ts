import { eq } from 'drizzle-orm';
import fc from 'fast-check';
import { beforeAll, expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { bulletinFacts } from '@/db/reads/bulletin-facts';
import { effectivity, effectivityCells, effectivityTotals } from '@/db/reads/effectivity';
import { factsInQuestion } from '@/db/reads/facts-in-question';
import { previewRule } from '@/db/reads/preview-rule';
import { amendment, bulletinUnit, fitment, person, reading, shed, unit } from '@/db/schema';
import { enterBulletin } from '@/db/writes/enter-bulletin';
import { judgeCompiled } from '@/lib/bulletins/applies-to-unit';
import { compileRule } from '@/lib/bulletins/condition';
import type { RangeRule, Rule } from '@/lib/bulletins/rule';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { expectedCheckCharacter } from '@/lib/bulletins/vin-check-digit';
import { isoFromDay } from '@/lib/calendar';
import { asOf, someFacts, someRule } from '../lib/bulletins/arbitrary-bulletins';
import { onEachDatabase } from '../support/databases';

const now = new Date('2025-11-25T12:00:00Z');
const seed = 20251125;
const rules = fc.sample(someRule, { numRuns: 40, seed });

/** Invented numbers: a sequence of its own for each unit, some with a wrong check digit or a letter. */
const vinOf = (index: number) => {
  const [cycle, year, plant] = [index % 3 === 0 ? '1' : 'B', 'JKTU'[index % 4], 'RS'[index % 2]];
  const maker = index % 5 === 0 ? 'ZZ1' : 'ZZ9';
  const tail = `${year}${plant}${index % 13 === 0 ? 'A00' : '000'}${String(index).padStart(3, '0')}`;
  const check = expectedCheckCharacter(`${maker}FA1${cycle}20${tail}`);
  return `${maker}FA1${cycle}2${index % 7 === 0 ? (check === '4' ? '5' : '4') : check}${tail}`;
};

const unitRow = (facts: BulletinFacts, index: number): typeof unit.$inferInsert => {
  const { built, gvwrKg, model, modelYear, engine, isCheckDigitRequired } = facts;
  const [year = null, month = null, day = null] = built
    ? isoFromDay(built.from).split('-').map(Number)
    : [];
  return {
    ...{ gvwrKg, model, modelYear, engine, isCheckDigitRequired },
    id: `Q${index}`,
    vin: facts.vin && vinOf(index),
    make: index % 20 === 0 ? '  ' : facts.make,
    builtYear: year,
    builtMonth: index % 11 === 0 ? null : month,
    builtDay: built?.precision === 'day' && index % 11 > 0 ? day : null,
    shedId: 'q',
    body: 'SUV',
    odometerUnit: 'km',
    trackedFrom: '2018-01-01',
  };
};

async function putFleet(db: Db): Promise<void> {
  const place = { id: 'q', name: 'Shed Q', elevationM: 300, timeZone: 'America/Denver' };
  const measures = { pressureUnit: 'psi', distanceUnit: 'km', bayHoursPerWeek: 40 } as const;
  await db.insert(shed).values({ ...place, ...measures });
  const role = 'fleet manager';
  await db
    .insert(person)
    .values({ id: 'q', name: 'Q', email: 'q@fleet.example', badge: 'Q', role });
  const facts = fc.sample(someFacts, { numRuns: 240, seed });
  const units = facts.map(unitRow);
  // A day that the calendar has not: the record holds it, so the build date is open.
  const impossible = { builtYear: 2019, builtMonth: 2, builtDay: 30, make: 'Alder' };
  await db
    .insert(unit)
    .values([...units, { ...unitRow(facts[1] as BulletinFacts, 240), ...impossible }]);
  await db
    .insert(fitment)
    .values(
      facts.flatMap(({ fitted }, index) =>
        fitted.map((part) => ({ unitId: `Q${index}`, ...part })),
      ),
    );
  const readingId = (index: number) => `00000000-0000-4000-8000-${String(index).padStart(12, '0')}`;
  const readings = facts.flatMap(({ newest, odometer }, index) =>
    newest
      ? {
          id: readingId(index),
          unitId: `Q${index}`,
          technicianId: 'q',
          shedId: 'q',
          readOn: isoFromDay(newest.readOn),
          readAt: now,
          receivedAt: now,
          line: newest.line,
          recoveryS: newest.recovery,
          idleVacuumKpa: newest.idle,
          lowestKpa: newest.lowest,
          odometerKm: odometer?.value ?? null,
          source: 'import' as const,
          payloadDigest: `q${index}`,
        }
      : [],
  );
  await db.insert(reading).values(readings);
  // An earlier reading of another sort counts for nothing, an amendment of the newest for all.
  const earlier = { readOn: '2019-01-01', line: 'film', recoveryS: 25, odometerKm: 1 } as const;
  await db
    .insert(reading)
    .values(readings.map((row, k) => ({ ...row, ...earlier, id: readingId(1000 + k) })));
  const measured = { line: 'wet', recoveryS: 20, odometerKm: 55_000 } as const;
  await db.insert(amendment).values(
    readings
      .filter((_, k) => k % 9 === 0)
      .map(({ id }, k) => ({
        ...{ id, readingId: id, before: {}, after: measured, keyed: {}, reason: 'misread' },
        ...{
          state: k % 2 === 0 ? 'approved' : 'refused',
          madeBy: 'q',
          madeAt: now,
          decidedAt: now,
        },
      })) as (typeof amendment.$inferInsert)[],
  );
}

onEachDatabase('units in question of a bulletin', (db) => {
  const actor = {
    personId: 'q',
    name: 'Q',
    role: 'fleet manager',
    shedIds: [],
    roleSince: now,
  } as const;
  let every: BulletinFacts[] = [];
  beforeAll(async () => {
    await putFleet(db());
    every = await bulletinFacts(db());
  });

  /** The plain way: every fact of every unit. */
  const plainly = (rule: Rule) => {
    const compiled = compileRule(rule, asOf);
    return new Map(every.map((facts) => [facts.unit, judgeCompiled(compiled, facts)]));
  };

  it('judges as if every fact of every unit had been read', async () => {
    let [leftOut, kept] = [0, 0];
    for (const rule of rules) {
      const compiled = compileRule(rule, asOf);
      const inQuestion = await factsInQuestion(db(), compiled);
      const expected = plainly(rule);
      const told = inQuestion.map((facts) => JSON.stringify(judgeCompiled(compiled, facts)));
      expect(told).toEqual(inQuestion.map((facts) => JSON.stringify(expected.get(facts.unit))));
      for (const facts of inQuestion) expected.delete(facts.unit);
      const missed = [...expected].filter(([, { answer }]) => answer !== 'does not');
      expect(missed, JSON.stringify(rule)).toEqual([]);
      kept += inQuestion.length;
      leftOut += expected.size;
    }
    // Otherwise nothing was left out, and nothing tried.
    expect(leftOut).toBeGreaterThan(kept / 4);
    expect(kept).toBeGreaterThan(0);
  });

  it('keeps a unit whose day of build is in no calendar', async () => {
    const rule = { anyOf: [{ make: ['Alder'], built: { from: '2021-01', to: '2021-02' } }] };
    const inQuestion = await factsInQuestion(db(), compileRule(rule, asOf));
    expect(inQuestion.map((facts) => facts.unit)).toContain('Q240');
  });

  it.each([
    { symptom: { line: ['wet'] } },
    { symptom: { recoverySlowerThan: 15, idleBelow: 70 } },
    { odometer: { from: 50_000, to: 60_000 } },
  ] as RangeRule[])('leaves out units that the newest reading rules out: %j', async (range) => {
    const rule = { anyOf: [range] };
    const inQuestion = await factsInQuestion(db(), compileRule(rule, asOf));
    const asked = new Set(inQuestion.map(({ unit }) => unit));
    const ruledOut = [...plainly(rule)].filter(([, { answer }]) => answer === 'does not');
    const leftOut = ruledOut.filter(([unit]) => !asked.has(unit));
    expect(leftOut.length + asked.size).toBe(every.length);
    // All but those whose reading was amended.
    expect(leftOut.length).toBeGreaterThan(ruledOut.length * 0.8);
  });

  it.each([
    { plant: ['S', 'T'] },
    { vinSequence: { from: '000040', to: '000090' } },
    { vinSequence: { from: '100' } },
    { plant: ['R'], vinSequence: { to: '30' } },
  ] as RangeRule[])(
    'leaves out every unit that its VIN rules out, and no other: %j',
    async (range) => {
      const rule = { anyOf: [range] };
      const inQuestion = await factsInQuestion(db(), compileRule(rule, asOf));
      const expected = [...plainly(rule)].flatMap(([unit, { answer }]) =>
        answer === 'does not' ? [] : [unit],
      );
      expect(inQuestion.map(({ unit }) => unit).sort()).toEqual(expected.sort());
      expect(expected.length).toBeLessThan(every.length);
    },
  );

  it('reads nothing that the rule does not ask', async () => {
    const rule = compileRule({ anyOf: [{ make: ['Alder'] }] }, asOf);
    const plain = await factsInQuestion(db(), rule);
    expect(plain.every(({ fitted, newest }) => fitted.length === 0 && newest === null)).toBe(true);
    const also = await factsInQuestion(db(), rule, ['pump revision']);
    expect(also.some(({ fitted }) => fitted.length > 0)).toBe(true);
  });

  it('previews and enters the same counts', async () => {
    for (const [index, rule] of [
      ...rules.slice(0, 12),
      { anyOf: [{ everyUnit: true }] },
    ].entries()) {
      const draft = {
        number: `Q-${index}`,
        issue: '1',
        title: 'Pump seal',
        issuedOn: '2025-11-01',
        kind: 'recommended',
        dueOn: null,
        rule,
        conditions: 'The seal lets oil through.',
        actions: 'Fit revision C.',
        hours: 1,
        requiredParts: [],
        source: 'invented',
      } as const;
      const expected = [...plainly(rule as Rule)].map(([unitId, { answer, why, missing }]) => ({
        ...{ unitId, answer, why, missing },
      }));
      const count = (asked: string) => expected.filter(({ answer }) => answer === asked).length;
      expect(await previewRule(db(), actor, draft, now)).toEqual({
        ok: true,
        value: {
          applies: count('applies'),
          undecided: count('undecided'),
          doesNot: count('does not'),
          marks: [],
        },
      });
      const entered = await enterBulletin(db(), { actor, draft, now });
      if (!entered.ok) throw new Error(JSON.stringify(entered.error));
      const { bulletinId } = entered.value;
      const stored = await db().query.bulletinUnit.findMany({
        where: (row, { eq }) => eq(row.bulletinId, bulletinId),
        orderBy: bulletinUnit.unitId,
      });
      const rows = stored.map(({ unitId, applicability: answer, why, missing }) => ({
        ...{ unitId, answer, why, missing },
      }));
      const covered = expected.filter(({ answer }) => answer !== 'does not');
      expect(rows.sort(byUnit)).toEqual(covered.sort(byUnit));
    }
  });

  it('counts each unit once in the matrix of build ranges, also after a build fact has changed', async () => {
    const counted = async () => {
      const { bulletins, unitIds, rows } = await effectivity(db(), actor, now);
      expect(rows.flatMap(({ units }) => units).length).toBe(every.length);
      const [cellOf, totalOf] = [
        await effectivityCells(db(), unitIds, rows),
        await effectivityTotals(db(), actor),
      ];
      for (const { id, rule } of bulletins) {
        const answers = [...plainly(rule as Rule).values()].map(({ answer }) => answer);
        const count = (asked: string) => answers.filter((answer) => answer === asked).length;
        const sum = (status: 'open' | 'undecided') =>
          rows.reduce((total, _, row) => total + cellOf(row, id)[status], 0);
        expect([sum('open'), sum('undecided')]).toEqual([count('applies'), count('undecided')]);
        expect(totalOf(id)).toMatchObject({ open: sum('open'), undecided: sum('undecided') });
      }
      return rows;
    };
    const before = await counted();
    expect(await counted()).toBe(before);
    await db().update(unit).set({ model: 'Harrow 9' }).where(eq(unit.id, 'Q240'));
    expect((await counted()).map(({ model }) => model)).toContain('Harrow 9');
  });
});

const byUnit = (one: { unitId: string }, other: { unitId: string }) =>
  one.unitId < other.unitId ? -1 : 1;
