import { decodeVin } from '@/lib/bulletins/decode-vin';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { validateVin } from '@/lib/bulletins/vin';
import { singleCharacterFixes, type VinFix } from '@/lib/bulletins/vin-check-digit';
import { vinContradictions } from '@/lib/bulletins/vin-contradictions';
import type { Problem } from '@/lib/result';

export interface VinTold {
  /** Refused, or to be looked at again. */
  readonly problems: readonly Problem[];
  readonly isRefused: boolean;
  /** Changes of one character that make the check digit right, the likeliest first. */
  readonly fixes: readonly VinFix[];
  /** What the number itself says; empty where it is refused. */
  readonly implied: readonly { readonly term: string; readonly value: string }[];
  readonly contradictions: readonly string[];
}

/**
 * All that can be said of the VIN of a unit: what is wrong with it, what it implies, and where the
 * label says otherwise. What it implies is never written to the label's side.
 *
 * Thin data: a unit without a VIN has nothing to tell, null.
 * Example: `ZZ9FA1B27TR000123` is refused, and 2 for 7 in position 9 is among its fixes.
 */
export function vinTold(
  facts: Pick<BulletinFacts, 'vin' | 'gvwrKg' | 'modelYear' | 'built' | 'isCheckDigitRequired'>,
): VinTold | null {
  if (facts.vin === null) return null;
  const checked = validateVin(facts.vin, facts);
  if (!checked.ok) {
    const isWhole = /^[A-HJ-NPR-Z0-9]{17}$/.test(facts.vin);
    const fixes = isWhole ? singleCharacterFixes(facts.vin) : [];
    return { problems: checked.error, isRefused: true, fixes, implied: [], contradictions: [] };
  }
  const { vin, warnings, hasRightCheckDigit } = checked.value;
  const decoded = decodeVin(vin, facts.gvwrKg);
  return {
    problems: warnings,
    isRefused: false,
    fixes: singleCharacterFixes(vin),
    implied: [
      {
        term: 'Maker',
        value: `${decoded.makerId}${decoded.isSmallMaker ? ', few vehicles a year' : ''}`,
      },
      { term: "Maker's description", value: decoded.descriptor },
      {
        term: 'Check digit',
        value: `${decoded.checkCharacter}, ${hasRightCheckDigit ? 'right' : 'wrong'}`,
      },
      { term: 'Model year', value: decoded.modelYears.join(' or ') || 'no year code' },
      { term: 'Plant', value: decoded.plant },
      { term: 'Sequence', value: decoded.sequence },
    ],
    contradictions: vinContradictions(decoded, facts),
  };
}
