import { desc, eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { ledgerEntry, ledgerPayload, partStock } from '@/db/schema';
import { setPartStock } from '@/db/writes/set-part-stock';
import { AccessDenied } from '@/lib/access';
import { onEachDatabase } from '../support/databases';
import { makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-05-04T12:00:00Z');

onEachDatabase('the list of parts', (db) => {
  const onList = async (partNumber: string) =>
    db().select().from(partStock).where(eq(partStock.partNumber, partNumber));

  it('takes a new revision and a change, each with its entry in the ledger', async () => {
    const fixture = await makeFixture(db());
    const actor = await fixture.person('fleet manager');
    const part = {
      partNumber: `P-${fixture.shedId}`,
      revision: 'A',
      part: 'belt',
      description: 'Belt, 6 ribs',
      supersededBy: null,
      inStock: 2,
      leadTimeDays: 7,
    } as const;
    const seen = { inStock: 2, leadTimeDays: 7 };
    const refusal = (input: Parameters<typeof setPartStock>[1]) =>
      setPartStock(db(), input).then((set) => (set.ok ? null : set.error.field));

    expect(await refusal({ actor, part, seen: null, now })).toBeNull();
    expect(await refusal({ actor, part, seen: null, now })).toBe('revision');
    const more = { ...part, inStock: 5 };
    expect(await refusal({ actor, part: more, seen, now })).toBeNull();
    // The other manager still sees two pieces.
    expect(await refusal({ actor, part: { ...part, inStock: 1 }, seen, now })).toBe('inStock');
    expect(await onList(part.partNumber)).toMatchObject([{ inStock: 5, leadTimeDays: 7 }]);

    const fresh = { inStock: 5, leadTimeDays: 7 };
    for (const supersededBy of ['A', 'B']) {
      const replaced = { ...more, supersededBy };
      expect(await refusal({ actor, part: replaced, seen: fresh, now })).toBe('supersededBy');
    }
    expect(await refusal({ actor, part: { ...part, revision: 'B' }, seen: null, now })).toBeNull();
    const replaced = { ...more, supersededBy: 'B' };
    expect(await refusal({ actor, part: replaced, seen: fresh, now })).toBeNull();

    const [entry] = await db()
      .select({ kind: ledgerEntry.kind, canonical: ledgerPayload.canonical })
      .from(ledgerEntry)
      .innerJoin(ledgerPayload, eq(ledgerPayload.entry, ledgerEntry.entry))
      .orderBy(desc(ledgerEntry.entry))
      .limit(1);
    expect(entry?.kind).toBe('part stock set');
    expect(JSON.parse(entry?.canonical ?? '')).toMatchObject({
      partNumber: part.partNumber,
      supersededBy: 'B',
      before: fresh,
    });
  });

  it('is changed by who may plan alone', async () => {
    const fixture = await makeFixture(db());
    const part = {
      partNumber: `P-${fixture.shedId}`,
      revision: 'A',
      part: 'belt',
      description: 'Belt',
      supersededBy: null,
      inStock: 1,
      leadTimeDays: 7,
    } as const;
    const technician = await fixture.person('technician');
    const set = setPartStock(db(), { actor: technician, part, seen: null, now });
    await expect(set).rejects.toThrow(AccessDenied);
    expect(await onList(part.partNumber)).toEqual([]);
  });
});
