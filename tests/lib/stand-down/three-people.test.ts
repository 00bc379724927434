import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { blocksReturn } from '@/lib/stand-down/blocks-return';
import { mayCertify, mayRelease } from '@/lib/stand-down/next-steps';
import {
  carryOut,
  command,
  emptyFacts,
  minute,
  newWorld,
  type Passed,
  start,
} from '../../support/stand-down-commands';

/** The promises, stated again from the raw facts and from nothing that the machine derived. */
function expectPromisesKept(
  { facts, now, releaser, proof, signedInMinutesAgo }: Passed,
  isSmallShop: boolean,
): void {
  const { certificate } = facts;
  if (!certificate) throw new Error('released without a certificate');
  expect(releaser.personId).not.toBe(certificate.by);
  expect(proof.readBy).not.toBeNull();
  expect([proof.readBy, ...proof.amendedBy]).not.toContain(certificate.by);
  if (!isSmallShop) expect([proof.readBy, ...proof.amendedBy]).not.toContain(releaser.personId);
  const hands = new Set([certificate.by, proof.readBy, releaser.personId]);
  expect(hands.size).toBe(isSmallShop && proof.readBy === releaser.personId ? 2 : 3);

  expect(releaser.role).toBe('safety officer');
  expect(now - releaser.roleSince.getTime()).toBeGreaterThanOrEqual(24 * 60 * minute);
  expect(signedInMinutesAgo).not.toBeNull();
  expect(signedInMinutesAgo).toBeLessThanOrEqual(5);
  expect(facts.openBulletins).toEqual([]);

  expect(proof.failures).toEqual([]);
  expect(proof.notMeasured).toEqual([]);
  if (proof.clockSkew !== null && Math.abs(proof.clockSkew) > 300) {
    expect(proof.isClockAccepted).toBe(true);
  }
  for (const { state, finishedAt } of facts.orders) {
    expect(state).toBe('finished');
    expect(finishedAt?.getTime()).toBeLessThanOrEqual(proof.readAt.getTime());
    expect(finishedAt?.getTime()).toBeLessThanOrEqual(certificate.at.getTime());
  }
  expect(proof.readAt.getTime()).toBeLessThanOrEqual(now);
  expect(certificate.at.getTime()).toBeLessThanOrEqual(now);

  const isRepair = certificate.kind === 'repaired';
  if (isRepair) expect(facts.orders).toHaveLength(1);
  const from = isRepair ? facts.orders[0]?.finishedAt : certificate.at;
  const since = facts.readings.filter(({ readAt }) => from && readAt >= from);
  expect(since.some(({ failures }) => failures.length > 0)).toBe(false);
  const byOthers = since.filter(
    ({ readBy, amendedBy, notMeasured }) =>
      readBy !== null &&
      notMeasured.length === 0 &&
      ![readBy, ...amendedBy].includes(certificate.by),
  );
  expect(byOthers.length).toBeGreaterThanOrEqual(isRepair ? 1 : 2);
}

describe('10,000 random sequences of commands', () => {
  it('never release by one person, never without proof', () => {
    const releases = { threePeople: 0, smallShop: 0, notNecessary: 0 };
    fc.assert(
      fc.property(
        fc.array(command, { minLength: 10, maxLength: 60 }),
        fc.boolean(),
        (commands, isSmallShop) => {
          const world = newWorld();
          for (const told of commands) {
            const passed = carryOut(world, told, isSmallShop);
            if (!passed) continue;
            expectPromisesKept(passed, isSmallShop);
            // Whatever was still open on the list was the release itself.
            expect(
              blocksReturn(passed.facts)
                .filter(({ isDone }) => !isDone)
                .map(({ step }) => step),
            ).toEqual(['release']);
            releases[isSmallShop ? 'smallShop' : 'threePeople']++;
            if (passed.facts.certificate?.kind === 'repair not necessary') releases.notNecessary++;
            break;
          }
        },
      ),
      { numRuns: 10_000, seed: 20_260_105 },
    );
    // The walk must reach the door often enough to have tried it.
    expect(releases.threePeople).toBeGreaterThan(100);
    expect(releases.smallShop).toBeGreaterThan(100);
    expect(releases.notNecessary).toBeGreaterThan(20);
  });

  it('what has ended takes no further step', () => {
    const facts = { ...emptyFacts, releasedAt: new Date(start) };
    for (const actor of newWorld().actors) {
      const asked = { kind: 'repaired', whatWasChecked: 'x' } as const;
      expect(mayCertify(facts, actor, asked)).toEqual({ ok: false, error: 'already released' });
      expect(
        mayRelease(facts, actor, {
          now: new Date(start),
          signedInAgainAt: new Date(start),
          settings: { isSmallShop: true },
        }),
      ).toEqual({ ok: false, error: 'already released' });
    }
  });
});
