import { createHash } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { canonicalJson } from '@/lib/ledger/canonical-json';
import {
  type ChainedEntry,
  type ChainFault,
  chainFault,
  chainPreimage,
  firstPreviousHash,
} from '@/lib/ledger/chain';

const sha256 = (text: string) => createHash('sha256').update(text, 'utf8').digest('hex');

type Kept = ChainedEntry & { readonly hash: string; readonly canonical: string | null };

function chainOf(length: number): Kept[] {
  const kept: Kept[] = [];
  for (let entry = 1; entry <= length; entry++) {
    const canonical = canonicalJson({ entry, note: `reading ${entry % 97}`, kPa: entry / 7 });
    const chained: ChainedEntry = {
      entry,
      at: new Date(Date.UTC(2026, 0, 1) + entry * 61_001).toISOString(),
      deviceAt: entry % 3 === 0 ? new Date(Date.UTC(2026, 0, 1) + entry).toISOString() : null,
      personId: entry % 5 === 0 ? null : `person-${entry % 4}`,
      kind: entry % 2 === 0 ? 'reading recorded' : 'marks changed',
      unitId: entry % 11 === 0 ? null : `P-${entry % 40}`,
      payloadDigest: sha256(canonical),
      previousHash: kept.at(-1)?.hash ?? firstPreviousHash,
    };
    kept.push({ ...chained, hash: sha256(chainPreimage(chained)), canonical });
  }
  return kept;
}

function faultsOf(kept: readonly Kept[]): ChainFault[] {
  return kept.flatMap(
    (entry, index) => chainFault(entry, kept[index - 1] ?? null, entry.canonical, sha256) ?? [],
  );
}

/** The text with one bit of its UTF-8 flipped, or null where the bytes are no text any more. */
function withBitFlipped(text: string, bit: number): string | null {
  const bytes = Buffer.from(text, 'utf8');
  bytes[bit >> 3] = (bytes[bit >> 3] ?? 0) ^ (1 << (bit & 7));
  const flipped = bytes.toString('utf8');
  return flipped.includes('\ufffd') ? null : flipped;
}

const textFields = [
  'at',
  'deviceAt',
  'personId',
  'kind',
  'unitId',
  'payloadDigest',
  'previousHash',
  'hash',
  'canonical',
] as const;

describe('the chain of 1,000 entries', () => {
  let kept: Kept[];
  beforeAll(() => {
    kept = chainOf(1_000);
  });

  it('is whole', () => {
    expect(faultsOf(kept)).toEqual([]);
  });

  it('shows every flipped bit of every text of every entry', () => {
    let flips = 0;
    const missed: string[] = [];
    for (const [index, entry] of kept.entries()) {
      for (const field of textFields) {
        const text = entry[field];
        if (text === null) continue;
        // All bits of every tenth entry; one bit of each field of the others.
        const bits = Buffer.byteLength(text) * 8;
        const step = index % 10 === 0 ? 1 : bits;
        for (let bit = index % bits; bit < bits + (index % bits); bit += step) {
          const flipped = withBitFlipped(text, bit % bits);
          if (flipped === null) continue;
          flips++;
          const altered = { ...entry, [field]: flipped };
          const next = kept[index + 1];
          const isFound =
            chainFault(altered, kept[index - 1] ?? null, altered.canonical, sha256) !== null ||
            (next !== undefined && chainFault(next, altered, next.canonical, sha256) !== null);
          if (!isFound) missed.push(`${entry.entry} ${field} ${bit}`);
        }
      }
    }
    expect(missed).toEqual([]);
    expect(flips).toBeGreaterThan(200_000);
  });

  it('says which entry differs, and whether it or its payload does', () => {
    const [first, second] = kept as [Kept, Kept];
    const fault = (altered: Kept) => chainFault(altered, first, altered.canonical, sha256);
    expect(fault(second)).toBeNull();
    expect(fault({ ...second, unitId: 'P-9' })).toEqual({ entry: 2, fault: 'hash differs' });
    expect(fault({ ...second, canonical: '{}' })).toEqual({ entry: 2, fault: 'payload differs' });
    expect(fault({ ...second, canonical: null })).toBeNull();
    expect(fault({ ...second, previousHash: firstPreviousHash })).toEqual({
      entry: 2,
      fault: 'previous hash differs',
    });
  });

  it('shows an entry taken out, put in twice, or swapped', () => {
    for (const at of [0, 1, 499, 998]) {
      expect(faultsOf(kept.toSpliced(at, 1))[0]?.fault).toBe('entry missing');
      expect(faultsOf(kept.toSpliced(at, 0, kept[at] as Kept)).length).toBeGreaterThan(0);
      const swapped = kept.toSpliced(at, 2, kept[at + 1] as Kept, kept[at] as Kept);
      expect(faultsOf(swapped).length).toBeGreaterThan(0);
    }
  });

  it('shows an entry that was altered and hashed anew, at the entry after it', () => {
    const altered = { ...(kept[499] as Kept), personId: 'somebody-else' };
    const forged = { ...altered, hash: sha256(chainPreimage(altered)) };
    expect(faultsOf(kept.with(499, forged))).toEqual([
      { entry: 501, fault: 'previous hash differs' },
    ]);
  });

  it('still proves an entry whose payload was purged by policy', () => {
    expect(faultsOf(kept.map((entry) => ({ ...entry, canonical: null })))).toEqual([]);
  });
});
