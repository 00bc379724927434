import type { OrderFacts, ProofReading, SpellFacts } from './spell-facts';

/** Seconds that a device's clock may be off before its reading must be accepted by a person. */
export const clockTolerance = 300;

export type CertificateStanding = 'none' | 'stands' | 'void: later work' | 'void: proof failed';

export type ProofStanding =
  | { readonly is: 'none read' | 'work not finished' | 'read before the repair was finished' }
  | { readonly is: 'failed'; readonly reading: ProofReading }
  | { readonly is: 'not fit'; readonly reading: ProofReading; readonly why: UnfitProof }
  | { readonly is: 'one more needed'; readonly readings: readonly ProofReading[] }
  | { readonly is: 'stands'; readonly readings: readonly ProofReading[] };

export type UnfitProof =
  | 'read by the certifier'
  | 'read by the releaser'
  | 'reader unknown'
  | 'clock not accepted'
  | 'not complete';

const isFinished = ({ state }: OrderFacts): boolean => state === 'finished' || state === 'closed';

/** Orders that must be finished before the unit can go back. */
export const unfinishedOrders = ({ orders }: SpellFacts): readonly OrderFacts[] =>
  orders.filter(
    ({ state, isForSpell }) =>
      state === 'begun' ||
      state === 'waiting' ||
      (isForSpell && (state === 'raised' || state === 'placed')),
  );

/** When the last work within the spell was finished; null when none was. */
export function workFinishedAt({ orders }: SpellFacts): Date | null {
  const times = orders.flatMap((order) =>
    isFinished(order) && order.finishedAt ? [order.finishedAt.getTime()] : [],
  );
  return times.length > 0 ? new Date(Math.max(...times)) : null;
}

/** The instant from which a reading may prove: the finished work, or "repair not necessary". */
function proofCountsFrom(facts: SpellFacts): Date | null {
  const finishedAt = workFinishedAt(facts);
  const { certificate } = facts;
  if (certificate?.kind !== 'repair not necessary') return finishedAt;
  return finishedAt && finishedAt > certificate.at ? finishedAt : certificate.at;
}

export function failedProof(facts: SpellFacts): ProofReading | null {
  const from = proofCountsFrom(facts);
  if (!from) return null;
  return (
    facts.readings.findLast(({ readAt, failures }) => readAt >= from && failures.length > 0) ?? null
  );
}

export function certificateStanding(facts: SpellFacts): CertificateStanding {
  const { certificate } = facts;
  if (!certificate) return 'none';
  const finishedAt = workFinishedAt(facts);
  const isUnderWay = facts.orders.some(({ state }) => state === 'begun' || state === 'waiting');
  if (isUnderWay || (finishedAt && finishedAt > certificate.at)) return 'void: later work';
  return failedProof(facts) ? 'void: proof failed' : 'stands';
}

export const isClockInDoubt = ({ clockSkew, isClockAccepted }: ProofReading): boolean =>
  !isClockAccepted && clockSkew !== null && Math.abs(clockSkew) > clockTolerance;

function unfitness(
  reading: ProofReading,
  certifier: string | null,
  releaser: string | null,
): UnfitProof | null {
  if (reading.notMeasured.length > 0) return 'not complete';
  if (reading.readBy === null) return 'reader unknown';
  const hands = [reading.readBy, ...reading.amendedBy];
  if (certifier !== null && hands.includes(certifier)) return 'read by the certifier';
  if (releaser !== null && hands.includes(releaser)) return 'read by the releaser';
  return isClockInDoubt(reading) ? 'clock not accepted' : null;
}

/**
 * Whether the repair is proven. "Repair not necessary" needs two sound readings after it, a repair
 * needs one; one failed reading since then undoes them all. `releaser` is left out of the readers
 * where the rule of three people holds, and null where it does not or nobody releases yet.
 */
export function proofStanding(facts: SpellFacts, releaser: string | null = null): ProofStanding {
  const from = proofCountsFrom(facts);
  if (unfinishedOrders(facts).length > 0 || !from) return { is: 'work not finished' };
  const failed = failedProof(facts);
  if (failed) return { is: 'failed', reading: failed };
  const since = facts.readings.filter(({ readAt }) => readAt >= from);
  const newest = since.at(-1);
  if (!newest) {
    return {
      is: facts.readings.length > 0 ? 'read before the repair was finished' : 'none read',
    };
  }
  const certifier = facts.certificate?.by ?? null;
  const fit = since.filter((reading) => unfitness(reading, certifier, releaser) === null);
  const needed = facts.certificate?.kind === 'repair not necessary' ? 2 : 1;
  if (fit.length >= needed) return { is: 'stands', readings: fit.slice(-needed) };
  const why = unfitness(newest, certifier, releaser);
  if (why) return { is: 'not fit', reading: newest, why };
  return { is: 'one more needed', readings: fit };
}
