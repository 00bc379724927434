import { unitNumberPattern } from '@/lib/unit-number';

/** The address that a unit's tag carries: any phone's camera opens the bay card on the unit. */
export const tagAddress = (origin: string, unitId: string): string =>
  `${origin}/bay?unit=${encodeURIComponent(unitId)}`;

/**
 * The unit that a scanned tag names: by the address of its bay card, wherever the product is served,
 * or by the bare number of a tag that a shed made itself. Null for anything else.
 *
 * @example unitOfTag('http://localhost:3000/bay?unit=0417') is '0417'
 */
export function unitOfTag(text: string): string | null {
  const [, query] = /^https?:\/\/[^/]+\/bay\?(.*)$/.exec(text.trim()) ?? [];
  const named = query === undefined ? text : (/(?:^|&)unit=([^&]*)/.exec(query)?.[1] ?? '');
  const id = decoded(named).trim().toUpperCase();
  return unitNumberPattern.test(id) ? id : null;
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return '';
  }
}
