const alphabet = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
export const codeLength = 20;

/**
 * A code that one person reads out or writes down and another keys: 20 symbols of 5 bits each, 100
 * bits in all, so that guessing is hopeless and a plain digest can be kept of it. The alphabet leaves
 * out I, L, O and U. Source: the base-32 alphabet of Crockford; fewer than 20 bytes give null.
 *
 * @example twenty zero bytes give 00000-00000-00000-00000
 */
export function codeOfBytes(bytes: Uint8Array): string | null {
  if (bytes.length < codeLength) return null;
  const symbols = Array.from(bytes.subarray(0, codeLength), (byte) => alphabet[byte & 31]).join('');
  return symbols.replaceAll(/(.{5})(?!$)/g, '$1-');
}

/**
 * What was keyed, in the form that digests are taken of: capitals, no gaps, and the letters that are
 * mistaken for digits as those digits; null where it cannot be a code.
 *
 * @example "o000o 00000 00000 0000l" is 00000000000000000001
 */
export function keyedCode(text: string): string | null {
  const symbols = text
    .toUpperCase()
    .replaceAll(/[\s-]/g, '')
    .replaceAll('O', '0')
    .replaceAll(/[IL]/g, '1');
  const isCode =
    symbols.length === codeLength && [...symbols].every((one) => alphabet.includes(one));
  return isCode ? symbols : null;
}
