export type Key = '0' | '1' | '2' | '3' | '4' | '5' | '6' | '7' | '8' | '9' | 'clear' | 'delete';

/**
 * The digits of an entry after a key of the pad. No nought leads, and digits past the most are dropped.
 *
 * @example applyKey('13', '1', 3) is '131'
 */
export function applyKey(digits: string, key: Key, most: number): string {
  if (key === 'clear') return '';
  if (key === 'delete') return digits.slice(0, -1);
  return digits.length >= most ? digits : `${digits}${key}`.replace(/^0+(?=\d)/, '');
}

/** The point that a gauge's face implies: `withPoint('131')` is `13.1`, `withPoint('9')` is `0.9`. */
export const withPoint = (digits: string): string =>
  digits === '' ? '' : `${digits.slice(0, -1) || '0'}.${digits.slice(-1)}`;
