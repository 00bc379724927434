import { randomUUID } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { actorOfPerson } from '@/db/reads/actor-of-person';
import { openSpells } from '@/db/reads/open-spells';
import { packFacts } from '@/db/reads/pack-facts';
import { people } from '@/db/reads/people';
import { ledgerEntry, ledgerPayload } from '@/db/schema';
import { certifyRepair } from '@/db/writes/certify-repair';
import { changePerson } from '@/db/writes/change-person';
import { invitePerson } from '@/db/writes/invite-person';
import { standDown } from '@/db/writes/stand-down';
import { personDetails } from '@/lib/people/person-details';
import { onEachDatabase } from '../support/databases';
import { makeFixture, putFinishedOrder } from '../support/tarn-fixture';

const at = (hours: number) => new Date(Date.UTC(2026, 0, 5, 15) + hours * 3_600_000);
const details = (shedIds: string[]) => ({
  name: 'Wil Orme',
  email: `wil-${randomUUID()}@elsewhere.example`,
  badge: `X${randomUUID().slice(0, 8)}`,
  role: 'technician' as const,
  shedIds,
  isOutsideCertifier: true,
});

onEachDatabase('a certifier of an outside shop', (db) => {
  it('certifies, and is named as of an outside shop on the board, the ledger and the pack', async () => {
    const fixture = await makeFixture(db());
    const [unitId] = fixture.unitIds as [string];
    const admin = await fixture.person('admin');
    const officer = await fixture.person('safety officer');
    const person = details([fixture.shedId]);
    const made = await invitePerson(db(), { actor: admin, details: person, now: at(0) });
    const outside = made.ok ? await actorOfPerson(db(), made.value.personId) : null;
    if (!outside) throw new Error('the outside certifier was not invited');
    await standDown(db(), { actor: officer, unitId, cause: 'other', note: null, now: at(0) });
    await putFinishedOrder(db(), { unitId, by: officer.personId, finishedAt: at(1) });
    const signed = await certifyRepair(db(), {
      actor: outside,
      unitId,
      kind: 'repaired',
      note: 'pump',
      now: at(2),
    });
    expect(signed.ok).toBe(true);
    const [out] = await openSpells(db(), officer, unitId);
    expect(out?.people.get(outside.personId)).toMatchObject({ isOutsideCertifier: true });
    const pack = await packFacts(db(), officer, { unitId, from: null, to: null });
    expect(pack.ok && pack.value.spells[0]?.certifiedBy).toBe(
      `Wil Orme, ${person.badge}, outside shop`,
    );
    const [entry] = await db()
      .select({ canonical: ledgerPayload.canonical })
      .from(ledgerEntry)
      .innerJoin(ledgerPayload, eq(ledgerPayload.entry, ledgerEntry.entry))
      .where(eq(ledgerEntry.personId, outside.personId));
    expect(JSON.parse(entry?.canonical ?? '')).toMatchObject({ isOutsideShop: true });
  });

  it('is a technician, and no longer of an outside shop in another role', async () => {
    expect(personDetails.safeParse({ ...details([]), role: 'safety officer' }).success).toBe(false);
    const admin = await (await makeFixture(db())).person('admin');
    const made = await invitePerson(db(), { actor: admin, details: details([]), now: at(0) });
    if (!made.ok) throw new Error('not invited');
    const { personId } = made.value;
    await changePerson(db(), {
      actor: admin,
      personId,
      place: { role: 'auditor', shedIds: [] },
      now: at(1),
    });
    const listed = (await people(db(), admin, at(2))).people.find(({ id }) => id === personId);
    expect(listed).toMatchObject({ role: 'auditor', isOutsideCertifier: false });
  });
});
