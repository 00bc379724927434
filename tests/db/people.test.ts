import { randomUUID } from 'node:crypto';
import { verifyPassword } from 'better-auth/crypto';
import { eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { actorOfPerson } from '@/db/reads/actor-of-person';
import { isFirstRun } from '@/db/reads/is-first-run';
import { ownSessions } from '@/db/reads/own-sessions';
import { ownUnits } from '@/db/reads/own-units';
import { people } from '@/db/reads/people';
import { account, ledgerEntry, ledgerPayload, person, session, verification } from '@/db/schema';
import { acceptCode } from '@/db/writes/accept-code';
import { askResetCode } from '@/db/writes/ask-reset-code';
import { changePerson } from '@/db/writes/change-person';
import { chooseOwnUnits } from '@/db/writes/choose-own-units';
import { endOwnSessions } from '@/db/writes/end-own-sessions';
import { invitePerson } from '@/db/writes/invite-person';
import { issueFirstRunCode } from '@/db/writes/issue-first-run-code';
import { issueResetCode } from '@/db/writes/issue-reset-code';
import { makeFirstAdmin } from '@/db/writes/make-first-admin';
import { setPersonActive } from '@/db/writes/set-person-active';
import { AccessDenied, type Actor, roles } from '@/lib/access';
import { onEachDatabase } from '../support/databases';
import { type Fixture, makeFixture } from '../support/tarn-fixture';

const day = 86_400_000;
const now = new Date('2026-03-02T15:00:00Z');
const later = (ms: number) => new Date(now.getTime() + ms);
const password = 'a longer password';

const detailsIn = (shedId: string) => {
  const mark = randomUUID().slice(0, 8);
  return {
    name: 'Ola Brandt',
    email: `ola-${mark}@fleet.example`,
    badge: `B${mark}`,
    role: 'technician' as const,
    shedIds: [shedId],
  };
};

async function invited(db: Db, actor: Actor, shedId: string) {
  const details = detailsIn(shedId);
  const made = await invitePerson(db, { actor, details, now });
  if (!made.ok) throw new Error(JSON.stringify(made.error));
  return { details, ...made.value };
}

const passwordsOf = (db: Db, personId: string) =>
  db.select().from(account).where(eq(account.userId, personId));

async function signIn(db: Db, userId: string): Promise<void> {
  const id = randomUUID();
  await db.insert(session).values({ id, token: id, userId, expiresAt: later(day) });
}
const sessionsOf = (db: Db, personId: string) => db.$count(session, eq(session.userId, personId));

onEachDatabase('people', (db) => {
  let fixture: Fixture;
  let admin: Actor;

  it('the first admin is made by the printed code, once, while nobody is there', async () => {
    expect(await isFirstRun(db())).toBe(true);
    const codes = [await issueFirstRunCode(db(), now), await issueFirstRunCode(db(), now)];
    const kept = await db().select().from(verification);
    expect(kept).toHaveLength(2);
    for (const code of codes) {
      expect(code).toMatch(/^([0-9A-Z]{5}-){3}[0-9A-Z]{5}$/);
      expect(JSON.stringify(kept)).not.toContain(code?.replaceAll('-', ''));
    }
    const make = (code: string, at = now) =>
      makeFirstAdmin(db(), {
        code,
        name: 'Kit Oran',
        email: `first-${randomUUID()}@fleet.example`,
        password,
        now: at,
      });
    expect(await make('00000-00000-00000-00000')).toEqual({ ok: false, error: 'no such code' });
    expect(await make(codes[0] ?? '', later(2 * day))).toEqual({
      ok: false,
      error: 'no such code',
    });
    expect(await isFirstRun(db())).toBe(true);
    const answers = await Promise.all(codes.map((code) => make(code?.toLowerCase() ?? '')));
    expect(answers.filter(({ ok }) => ok)).toHaveLength(1);
    expect(await db().$count(person)).toBe(1);
    expect(await issueFirstRunCode(db(), now)).toBeNull();
    expect(await make(codes[1] ?? '')).toEqual({ ok: false, error: 'not the first' });
  });

  it('only an admin sees and changes people, whatever the page says', async () => {
    fixture = await makeFixture(db());
    admin = await fixture.person('admin');
    const { personId } = await invited(db(), admin, fixture.shedId);
    const before = await db().$count(ledgerEntry);
    for (const role of roles.filter((one) => one !== 'admin')) {
      const actor = await fixture.person(role);
      const place = { role: 'safety officer' as const, shedIds: [] };
      for (const attempt of [
        () => people(db(), actor, now),
        () => invitePerson(db(), { actor, details: detailsIn(fixture.shedId), now }),
        () => changePerson(db(), { actor, personId, place, now }),
        () => setPersonActive(db(), { actor, personId, isActive: false, now }),
        () => issueResetCode(db(), { actor, personId, now }),
      ]) {
        await expect(attempt()).rejects.toThrow(AccessDenied);
      }
    }
    expect(await db().$count(ledgerEntry)).toBe(before);
  });

  it('an invited person sets a password with the code, once, and before it runs out', async () => {
    const { personId, code, details } = await invited(db(), admin, fixture.shedId);
    const accept = (keyed: string, at = now) =>
      acceptCode(db(), { email: details.email, code: keyed, password, now: at });
    const refused = { ok: false, error: 'refused' };
    expect(await accept('ZZZZZ-ZZZZZ-ZZZZZ-ZZZZZ')).toEqual(refused);
    expect(await accept(code, later(8 * day))).toEqual(refused);
    expect(await passwordsOf(db(), personId)).toEqual([]);
    const both = await Promise.all([accept(code), accept(code)]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    const [kept] = await passwordsOf(db(), personId);
    expect(await verifyPassword({ hash: kept?.password ?? '', password })).toBe(true);
    expect(kept?.password).not.toContain(password);
    expect(await actorOfPerson(db(), personId)).toMatchObject({
      role: 'technician',
      shedIds: [fixture.shedId],
      roleSince: now,
    });
  });

  it('an address, a badge or a shed that does not fit is named and nothing is stored', async () => {
    const { details } = await invited(db(), admin, fixture.shedId);
    const other = detailsIn(fixture.shedId);
    const before = [await db().$count(person), await db().$count(ledgerEntry)];
    for (const [change, field] of [
      [{ email: details.email }, 'email'],
      [{ badge: details.badge }, 'badge'],
      [{ shedIds: ['no such shed'] }, 'shedIds'],
    ] as const) {
      const answer = await invitePerson(db(), {
        actor: admin,
        details: { ...other, ...change, shedIds: [...(change.shedIds ?? other.shedIds)] },
        now,
      });
      expect(answer).toMatchObject({ ok: false, error: [{ field }] });
    }
    expect([await db().$count(person), await db().$count(ledgerEntry)]).toEqual(before);
  });

  it('nobody changes, bars or resets themselves', async () => {
    const at = { actor: admin, personId: admin.personId, now };
    const place = { role: 'safety officer' as const, shedIds: [] };
    const yourself = { ok: false, error: 'yourself' };
    expect(await changePerson(db(), { ...at, place })).toEqual(yourself);
    expect(await setPersonActive(db(), { ...at, isActive: false })).toEqual(yourself);
    expect(await issueResetCode(db(), at)).toEqual(yourself);
  });

  it('a new role is young; new sheds alone leave its age', async () => {
    const { personId } = await invited(db(), admin, fixture.shedId);
    const change = (role: 'technician' | 'safety officer', shedIds: string[], at: Date) =>
      changePerson(db(), { actor: admin, personId, place: { role, shedIds }, now: at });
    await change('technician', [], later(day));
    expect(await actorOfPerson(db(), personId)).toMatchObject({ roleSince: now, shedIds: [] });
    await change('safety officer', [], later(2 * day));
    expect(await actorOfPerson(db(), personId)).toMatchObject({
      role: 'safety officer',
      roleSince: later(2 * day),
    });
    const missing = await change('technician', ['no such shed'], later(3 * day));
    expect(missing).toEqual({ ok: false, error: 'unknown shed' });
  });

  it('a barred person has no session, no code and no say; let in again, the say is back', async () => {
    const { personId, code, details } = await invited(db(), admin, fixture.shedId);
    await signIn(db(), personId);
    await setPersonActive(db(), { actor: admin, personId, isActive: false, now });
    expect(await sessionsOf(db(), personId)).toBe(0);
    expect(await actorOfPerson(db(), personId)).toBeNull();
    await setPersonActive(db(), { actor: admin, personId, isActive: true, now });
    const accepted = await acceptCode(db(), { email: details.email, code, password, now });
    expect(accepted.ok).toBe(false);
    expect(await actorOfPerson(db(), personId)).not.toBeNull();
  });

  it('a reset ends password, sessions and the code before it at once', async () => {
    const first = await invited(db(), admin, fixture.shedId);
    const { personId } = first;
    const { email } = first.details;
    await acceptCode(db(), { email, code: first.code, password, now });
    await signIn(db(), personId);
    const one = await issueResetCode(db(), { actor: admin, personId, now });
    const two = await issueResetCode(db(), { actor: admin, personId, now });
    if (!one.ok || !two.ok) throw new Error('an admin may issue a code');
    expect(await sessionsOf(db(), personId)).toBe(0);
    expect(await passwordsOf(db(), personId)).toEqual([]);
    const accept = (code: string) => acceptCode(db(), { email, code, password, now });
    expect((await accept(one.value.code)).ok).toBe(false);
    expect((await accept(two.value.code)).ok).toBe(true);
  });

  it('a code asked by mail sets another password within the hour and changes nothing before', async () => {
    const { personId, code, details } = await invited(db(), admin, fixture.shedId);
    const { email } = details;
    await acceptCode(db(), { email, code, password, now });
    await signIn(db(), personId);
    expect(await askResetCode(db(), `nobody-${email}`, now)).toBeNull();
    const asked = await askResetCode(db(), email, now);
    if (!asked) throw new Error('somebody on record may ask');
    expect(await sessionsOf(db(), personId)).toBe(1);
    expect(await passwordsOf(db(), personId)).toHaveLength(1);
    const accept = (at: Date) =>
      acceptCode(db(), { email, code: asked.code, password: 'another long one', now: at });
    expect((await accept(later(2 * 3_600_000))).ok).toBe(false);
    expect((await accept(later(60_000))).ok).toBe(true);
    expect(await sessionsOf(db(), personId)).toBe(0);
  });

  it('codes are mailed three times an hour at most, and to nobody barred', async () => {
    const { personId, details } = await invited(db(), admin, fixture.shedId);
    const ask = async (at: Date) => (await askResetCode(db(), details.email, at)) !== null;
    const answers = [];
    for (let k = 0; k < 5; k++) answers.push(await ask(later(k * 60_000)));
    expect(answers).toEqual([true, true, true, false, false]);
    expect(await ask(later(3_660_000))).toBe(true);
    await setPersonActive(db(), { actor: admin, personId, isActive: false, now });
    expect(await ask(later(day))).toBe(false);
  });

  it('whoever signs out everywhere has no session left, and nobody else loses one', async () => {
    const [one, other] = [await fixture.person('technician'), await fixture.person('auditor')];
    for (const { personId } of [one, one, other]) await signIn(db(), personId);
    expect(await ownSessions(db(), one, now)).toHaveLength(2);
    await endOwnSessions(db(), one, now);
    expect(await ownSessions(db(), one, now)).toEqual([]);
    expect(await ownSessions(db(), other, now)).toHaveLength(1);
  });

  it('each reads in units of their own; where none is chosen, in those of the shed', async () => {
    const [one, other] = [await fixture.person('technician'), await fixture.person('technician')];
    const before = await actorOfPerson(db(), one.personId);
    const choose = (pressureUnit: 'kPa' | null) =>
      chooseOwnUnits(db(), { actor: one, pressureUnit, distanceUnit: null, now });
    await choose('kPa');
    expect(await ownUnits(db(), one)).toEqual({ pressureUnit: 'kPa', distanceUnit: null });
    expect(await actorOfPerson(db(), one.personId)).toEqual({ ...before, pressureUnit: 'kPa' });
    expect(await ownUnits(db(), other)).toEqual({ pressureUnit: null, distanceUnit: null });
    await choose(null);
    expect(await actorOfPerson(db(), one.personId)).toEqual(before);
  });

  it('two admins who bar one another at once leave one', async () => {
    const [a, b] = [await fixture.person('admin'), await fixture.person('admin')];
    const answers = await Promise.allSettled([
      setPersonActive(db(), { actor: a, personId: b.personId, isActive: false, now }),
      setPersonActive(db(), { actor: b, personId: a.personId, isActive: false, now }),
    ]);
    expect(answers.map(({ status }) => status).toSorted()).toEqual(['fulfilled', 'rejected']);
    const standing = [await actorOfPerson(db(), a.personId), await actorOfPerson(db(), b.personId)];
    expect(standing.filter((one) => one !== null)).toHaveLength(1);
  });

  it('every change is in the ledger, and no code or password ever is', async () => {
    const { personId, code, details } = await invited(db(), admin, fixture.shedId);
    await acceptCode(db(), { email: details.email, code, password, now });
    await setPersonActive(db(), { actor: admin, personId, isActive: false, now });
    const rows = await db()
      .select({ kind: ledgerEntry.kind, canonical: ledgerPayload.canonical })
      .from(ledgerEntry)
      .innerJoin(ledgerPayload, eq(ledgerPayload.entry, ledgerEntry.entry))
      .where(eq(ledgerEntry.at, now))
      .orderBy(ledgerEntry.entry);
    const mine = rows.filter(({ canonical }) => canonical.includes(personId));
    expect(mine.map(({ kind }) => kind)).toEqual([
      'person invited',
      'password set',
      'person barred',
    ]);
    for (const { canonical } of rows) {
      expect(canonical).not.toContain(password);
      expect(canonical).not.toContain(code);
    }
  });
});
