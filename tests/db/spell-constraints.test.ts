import { eq, sql } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { spell } from '@/db/schema';
import { sqlState } from '@/db/transaction';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putReading } from '../support/tarn-fixture';

const checkViolated = '23514';
const uniqueViolated = '23505';
const foreignKeyViolated = '23503';
const refused = '42501';
const deadlocked = '40P01';
const at = (hours: number) => new Date(Date.UTC(2026, 0, 5, 15) + hours * 3_600_000);

/** SQLSTATE that a statement ends with, its message where it has none, or `done`. */
const outcome = (statement: PromiseLike<unknown>): Promise<string> =>
  Promise.resolve(statement).then(
    () => 'done',
    (error) => sqlState(error) ?? String(error),
  );

async function openedSpell(db: Db) {
  const fixture = await makeFixture(db);
  const [unitId] = fixture.unitIds as [string];
  const [a, b, c] = [
    await fixture.person('technician'),
    await fixture.person('technician'),
    await fixture.person('safety officer'),
  ].map(({ personId }) => personId) as [string, string, string];
  const proof = await putReading(db, { unitId, shedId: fixture.shedId, by: b, on: at(2) });
  const [opened] = await db
    .insert(spell)
    .values({ unitId, cause: 'other', why: 'test', openedAt: at(0), openedBy: c })
    .returning({ id: spell.id });
  if (!opened) throw new Error('the spell was not stored');
  const whole = {
    certificate: 'repaired' as const,
    certifiedBy: a,
    certifiedAt: at(1),
    proofReadingId: proof,
    proofReadBy: b,
    releasedBy: c,
    releasedAt: at(3),
  };
  const set = (change: Partial<typeof spell.$inferInsert>) =>
    outcome(db.update(spell).set(change).where(eq(spell.id, opened.id)));
  return { unitId, spellId: opened.id, a, b, c, whole, set };
}

onEachDatabase('the database itself, with no code between', (db) => {
  it('admits one open spell a unit', async () => {
    const { unitId, whole, set } = await openedSpell(db());
    const again = () =>
      outcome(
        db()
          .insert(spell)
          .values({ unitId, cause: 'other', why: 'again', openedAt: at(0) }),
      );
    expect(await again()).toBe(uniqueViolated);
    expect(await set(whole)).toBe('done');
    expect(await again()).toBe('done');
  });

  it('keeps certifier, proof reader and releaser apart', async () => {
    const { whole, set, a, b, c } = await openedSpell(db());
    expect(await set({ ...whole, releasedBy: a })).toBe(checkViolated);
    expect(await set({ ...whole, proofReadBy: a })).toBe(checkViolated);
    expect(await set({ ...whole, releasedBy: b })).toBe(checkViolated);
    expect(await set({ ...whole, certifiedBy: c })).toBe(checkViolated);
    expect(await set({ ...whole, isSmallShop: true, releasedBy: a })).toBe(checkViolated);
    expect(await set({ ...whole, isSmallShop: true, proofReadBy: a })).toBe(checkViolated);
    expect(await set({ ...whole, isSmallShop: true, releasedBy: b })).toBe('done');
  });

  it.each([
    'certifiedBy',
    'certifiedAt',
    'certificate',
    'proofReadingId',
    'proofReadBy',
    'releasedBy',
  ] as const)('takes no release without %s', async (column) => {
    const { whole, set } = await openedSpell(db());
    expect(await set({ ...whole, [column]: null })).toBe(checkViolated);
  });

  it('takes no release before the certificate, nor a certificate before the spell', async () => {
    const { whole, set } = await openedSpell(db());
    expect(await set({ ...whole, releasedAt: at(0.5) })).toBe(checkViolated);
    expect(await set({ ...whole, certifiedAt: at(-1) })).toBe(checkViolated);
  });

  it('takes no person, reading or unit that is not on record', async () => {
    const { whole, set } = await openedSpell(db());
    const nobody = '00000000-0000-4000-8000-000000000000';
    expect(await set({ ...whole, releasedBy: nobody })).toBe(foreignKeyViolated);
    expect(await set({ ...whole, proofReadingId: nobody })).toBe(foreignKeyViolated);
  });

  it('leaves an ended spell as it ended, but lets evidence join it', async () => {
    const { whole, set, spellId, c } = await openedSpell(db());
    expect(await set(whole)).toBe('done');
    expect(await set({ releasedAt: null, releasedBy: null })).toBe(refused);
    expect(await set({ certifiedBy: c })).toBe(refused);
    expect(await set({ why: 'another story' })).toBe(refused);
    expect(
      await set({ evidence: [{ readingId: whole.proofReadingId, acknowledgedBy: null }] }),
    ).toBe('done');
    expect(await outcome(db().delete(spell).where(eq(spell.id, spellId)))).toBe(refused);
    expect(await outcome(db().execute(sql`truncate spell cascade`))).toBe(refused);
  });

  it('neither changes nor loses a reading', async () => {
    const { whole } = await openedSpell(db());
    const id = whole.proofReadingId;
    const raised = db().execute(sql`update reading set idle_vacuum_kpa = 95 where id = ${id}`);
    expect(await outcome(raised)).toBe(refused);
    expect(await outcome(db().execute(sql`delete from reading where id = ${id}`))).toBe(refused);
  });

  it('50 openings at once of each of 100 units leave one each', async () => {
    const fixture = await makeFixture(db(), 100);
    const writer = async () => {
      const outcomes = [];
      for (const unitId of fixture.unitIds) {
        const opening = { unitId, cause: 'other', why: 'race', openedAt: at(0) } as const;
        // A statement that fails outside a transaction costs its connection, and 4,900 fail here.
        outcomes.push(await outcome(db().transaction((tx) => tx.insert(spell).values(opening))));
      }
      return outcomes;
    };
    const outcomes = (await Promise.all(Array.from({ length: 50 }, writer))).flat();
    expect(outcomes.filter((one) => one === 'done')).toHaveLength(100);
    expect(outcomes).not.toContain(deadlocked);
    expect(outcomes).toContain(uniqueViolated);
  });
});
