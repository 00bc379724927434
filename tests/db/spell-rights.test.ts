import { randomUUID } from 'node:crypto';
import { eq } from 'drizzle-orm';
import { expect, it } from 'vitest';
import type { Db } from '@/db/client';
import { countLedgerEntries } from '@/db/reads/ledger-entries';
import { openSpells } from '@/db/reads/open-spells';
import { packFacts } from '@/db/reads/pack-facts';
import { provingUnits } from '@/db/reads/proving-units';
import { safetyReview } from '@/db/reads/safety-review';
import { ledgerEntry } from '@/db/schema';
import { acceptClock } from '@/db/writes/accept-clock';
import { acknowledgeDriving } from '@/db/writes/acknowledge-driving';
import { acknowledgeEvidence } from '@/db/writes/acknowledge-evidence';
import { certifyRepair } from '@/db/writes/certify-repair';
import { decideAmendment } from '@/db/writes/decide-amendment';
import { decideLimits } from '@/db/writes/decide-limits';
import { decideSmallShop } from '@/db/writes/decide-small-shop';
import { hangTag } from '@/db/writes/hang-tag';
import { noteOdometer } from '@/db/writes/note-odometer';
import { proposeLimits } from '@/db/writes/propose-limits';
import { proposeSmallShop } from '@/db/writes/propose-small-shop';
import { releaseUnit } from '@/db/writes/release-unit';
import { standDown } from '@/db/writes/stand-down';
import { AccessDenied, type Actor, roles } from '@/lib/access';
import { defaultLimits } from '@/lib/analysis/limits';
import { onEachDatabase } from '../support/databases';
import { makeFixture } from '../support/tarn-fixture';

const now = new Date('2026-01-05T15:00:00Z');
const id = randomUUID();
const { version: _, ...values } = defaultLimits;

/** Each step, and the roles that may take it for a unit of a shed of their own: t m s a d. */
const steps: Record<string, [string, (db: Db, actor: Actor, unitId: string) => Promise<unknown>]> =
  {
    'stand down': [
      'tms',
      (db, actor, unitId) => standDown(db, { actor, unitId, cause: 'other', note: null, now }),
    ],
    'hang the tag': ['tms', (db, actor, unitId) => hangTag(db, { actor, unitId, now })],
    'note an odometer': [
      'tms',
      (db, actor, unitId) =>
        noteOdometer(db, { actor, unitId, odometer: 1, seenOn: 'road test', now }),
    ],
    certify: [
      't',
      (db, actor, unitId) => certifyRepair(db, { actor, unitId, kind: 'repaired', note: '', now }),
    ],
    'accept a clock': [
      's',
      (db, actor, unitId) => acceptClock(db, { actor, unitId, readingId: id, reason: 'x', now }),
    ],
    release: [
      's',
      (db, actor, unitId) =>
        releaseUnit(db, {
          actor,
          unitId,
          spellId: id,
          whatWasChecked: 'x',
          signedInAgainAt: now,
          now,
        }),
    ],
    acknowledge: [
      's',
      (db, actor) => acknowledgeEvidence(db, { actor, spellId: id, readingId: id, now }),
    ],
    'acknowledge driving': [
      's',
      (db, actor) => acknowledgeDriving(db, { actor, spellId: id, drivenEntry: 1, note: 'x', now }),
    ],
    'decide an amendment': [
      's',
      (db, actor) => decideAmendment(db, { actor, amendmentId: id, isApproved: true, now }),
    ],
    'propose limits': [
      'm',
      (db, actor) =>
        proposeLimits(db, {
          actor,
          values,
          effectiveFrom: '2026-01-05',
          source: 'x',
          reason: 'x',
          now,
        }),
    ],
    'decide limits': [
      's',
      (db, actor) => decideLimits(db, { actor, version: 999, isApproved: true, now }),
    ],
    'propose the small shop': [
      'd',
      (db, actor) => proposeSmallShop(db, { actor, isOn: true, why: 'x', now }),
    ],
    'decide the small shop': [
      's',
      (db, actor) => decideSmallShop(db, { actor, isApproved: false, now }),
    ],
    'see the board': ['tmsa', (db, actor) => openSpells(db, actor)],
    'see what proves': ['tmsa', (db, actor) => provingUnits(db, actor)],
    'see the safety review': [
      'tmsa',
      (db, actor) => safetyReview(db, actor, { asOf: 20_458, months: 1 }),
    ],
    "make an auditor's pack": [
      'msa',
      (db, actor, unitId) => packFacts(db, actor, { unitId, from: null, to: null }),
    ],
    'see the ledger': ['tmsa', (db, actor) => countLedgerEntries(db, actor, {})],
  };
const letters = ['t', 'm', 's', 'a', 'd'];

onEachDatabase('who may take each step', (db) => {
  it.each(Object.keys(steps))('%s', async (name) => {
    const [allowed, take] = steps[name] as (typeof steps)[string];
    for (const [index, role] of roles.entries()) {
      const fixture = await makeFixture(db());
      const [unitId] = fixture.unitIds as [string];
      const actor = await fixture.person(role);
      const outcome = await take(db(), actor, unitId).then(
        () => 'taken',
        (error) => error,
      );
      if (allowed.includes(letters[index] ?? '')) expect([role, outcome]).toEqual([role, 'taken']);
      else {
        expect(outcome).toBeInstanceOf(AccessDenied);
        const left = await db()
          .select()
          .from(ledgerEntry)
          .where(eq(ledgerEntry.personId, actor.personId));
        expect(left).toEqual([]);
      }
    }
  });

  it('a technician certifies in the own sheds and sees their units only', async () => {
    const fixture = await makeFixture(db());
    const [unitId] = fixture.unitIds as [string];
    const officer = await fixture.person('safety officer');
    await standDown(db(), { actor: officer, unitId, cause: 'other', note: null, now });
    const other = await (await makeFixture(db())).person('technician');
    const own = await fixture.person('technician');
    await expect(
      certifyRepair(db(), { actor: other, unitId, kind: 'repaired', note: '', now }),
    ).rejects.toThrow(AccessDenied);
    expect(await openSpells(db(), other, unitId)).toEqual([]);
    expect(await openSpells(db(), own, unitId)).toHaveLength(1);
    expect(await countLedgerEntries(db(), other, { unitId })).toBe(0);
    expect(await countLedgerEntries(db(), own, { unitId })).toBeGreaterThan(0);
  });
});
