import { canonicalJson } from './canonical-json';

/** What an entry's hash covers. Times are ISO 8601 in UTC, digests lower-case hex SHA-256. */
export interface ChainedEntry {
  readonly entry: number;
  readonly at: string;
  readonly deviceAt: string | null;
  readonly personId: string | null;
  readonly kind: string;
  readonly unitId: string | null;
  readonly payloadDigest: string;
  readonly previousHash: string;
}

export const firstPreviousHash = '0'.repeat(64);

/** The bytes (as text) that are hashed to an entry's own hash. */
export const chainPreimage = (entry: ChainedEntry): string =>
  canonicalJson({
    at: entry.at,
    deviceAt: entry.deviceAt,
    entry: entry.entry,
    kind: entry.kind,
    payloadDigest: entry.payloadDigest,
    personId: entry.personId,
    previousHash: entry.previousHash,
    unitId: entry.unitId,
  });

export type ChainFault = {
  readonly entry: number;
  readonly fault:
    | 'entry missing'
    | 'previous hash differs'
    | 'hash differs'
    /** The chain may be whole, but is not the one of which a head was kept. */
    | 'kept head differs'
    | 'payload differs'
    /** More payloads are gone than policy has purged. */
    | 'payload missing';
};

/**
 * Faults of one entry against the entry before it. `canonical` is null where policy has purged the
 * payload; the chain then still proves that an entry with that digest stood there.
 */
export function chainFault(
  entry: ChainedEntry & { readonly hash: string },
  before: { readonly entry: number; readonly hash: string } | null,
  canonical: string | null,
  sha256: (text: string) => string,
): ChainFault | null {
  const expected = before ? before.entry + 1 : 1;
  if (entry.entry !== expected) return { entry: expected, fault: 'entry missing' };
  if (entry.previousHash !== (before?.hash ?? firstPreviousHash)) {
    return { entry: entry.entry, fault: 'previous hash differs' };
  }
  if (sha256(chainPreimage(entry)) !== entry.hash)
    return { entry: entry.entry, fault: 'hash differs' };
  if (canonical !== null && sha256(canonical) !== entry.payloadDigest) {
    return { entry: entry.entry, fault: 'payload differs' };
  }
  return null;
}
