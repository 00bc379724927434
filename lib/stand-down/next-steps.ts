import { type Actor, may } from '@/lib/access';
import { failure, type Result, success } from '@/lib/result';
import type { Refusal } from './refusals';
import type { CertificateKind, ProofReading, ReleaseSettings, SpellFacts } from './spell-facts';
import {
  certificateStanding,
  failedProof,
  isClockInDoubt,
  proofStanding,
  unfinishedOrders,
  workFinishedAt,
} from './spell-standing';

/** How long a fresh sign-in lasts as the releaser's signature. */
export const signInAgainMs = 5 * 60_000;
/** A role younger than this cannot release: nobody is made a releaser for one release. */
export const roleAgeMs = 24 * 3_600_000;

const allowed = success(null);
const refuse = (refusal: Refusal): Result<never, Refusal> => failure(refusal);

interface Certifying {
  readonly kind: CertificateKind;
  readonly whatWasChecked: string;
}

/** Whether this person may certify, as the first of the three. */
export function mayCertify(
  facts: SpellFacts,
  actor: Actor,
  { kind, whatWasChecked }: Certifying,
): Result<null, Refusal> {
  if (facts.releasedAt) return refuse('already released');
  if (!may(actor, 'certify a repair', facts.shedId)) return refuse('not allowed');
  if (unfinishedOrders(facts).length > 0) return refuse('work not finished');
  if (certificateStanding(facts) === 'stands') return refuse('already certified');
  if (kind === 'repair not necessary') {
    return whatWasChecked.trim() ? allowed : refuse('nothing said of what was checked');
  }
  if (!workFinishedAt(facts)) return refuse('no work finished');
  return failedProof({ ...facts, certificate: null }) ? refuse('proof failed') : allowed;
}

/** Whether this person may let a reading from a wrong clock stand. */
export function mayAcceptClock(
  facts: SpellFacts,
  actor: Actor,
  readingId: string,
): Result<ProofReading, Refusal> {
  if (facts.releasedAt) return refuse('already released');
  if (!may(actor, 'release to service', facts.shedId)) return refuse('not allowed');
  const reading = facts.readings.find((one) => one.readingId === readingId);
  if (!reading) return refuse('no such reading');
  return isClockInDoubt(reading) ? success(reading) : refuse('clock not in doubt');
}

interface Releasing {
  readonly now: Date;
  /** When the actor last proved who they are; null when not since signing in. */
  readonly signedInAgainAt: Date | null;
  readonly settings: ReleaseSettings;
}

export interface Release {
  /** The proof as it is signed for; the last of two where repair was not necessary. */
  readonly proof: ProofReading;
  /** True where the release leans on the small-shop rule. */
  readonly isSmallShop: boolean;
}

/**
 * Whether this person may release, as the last of the three, and on which proof. People are
 * compared, never roles: the certifier never releases, and who read the proof releases only in a
 * small shop.
 */
export function mayRelease(
  facts: SpellFacts,
  actor: Actor,
  { now, signedInAgainAt, settings }: Releasing,
): Result<Release, Refusal> {
  if (facts.releasedAt) return refuse('already released');
  if (!may(actor, 'release to service', facts.shedId)) return refuse('not allowed');
  if (now.getTime() - actor.roleSince.getTime() < roleAgeMs) return refuse('role too new');
  if (unfinishedOrders(facts).length > 0) return refuse('work not finished');
  if (facts.openBulletins.length > 0) return refuse('bulletin open');
  const certificate = certificateStanding(facts);
  if (certificate === 'none') return refuse('not certified');
  if (certificate !== 'stands') return refuse('certificate void');
  if (facts.certificate?.by === actor.personId) return refuse('certifier may not release');

  const apart = proofStanding(facts, actor.personId);
  const proof = apart.is === 'stands' || !settings.isSmallShop ? apart : proofStanding(facts);
  const last = proof.is === 'stands' ? proof.readings.at(-1) : undefined;
  if (!last) {
    if (proof.is === 'one more needed') return refuse('second sound reading owed');
    if (proof.is !== 'not fit') return refuse('no proof');
    return refuse(
      proof.why === 'read by the releaser' ? 'prover may not release' : 'proof not fit',
    );
  }
  const age = signedInAgainAt
    ? now.getTime() - signedInAgainAt.getTime()
    : Number.POSITIVE_INFINITY;
  if (age < 0 || age > signInAgainMs) return refuse('not signed in again');
  return success({ proof: last, isSmallShop: proof !== apart });
}
