const said = ['why', 'reason', 'whatWasChecked', 'note', 'because', 'cause'];

/**
 * What an entry's canonical payload says for itself: why, reason, what was checked, note, because,
 * cause, whichever comes first; else its members that are one value, and the names of the others. Source: own choice. Thin data: null,
 * where policy has purged the payload, is told as such.
 *
 * @example payloadWords('{"reason":"misread","to":3}') is 'misread'
 */
export function payloadWords(canonical: string | null): string {
  if (canonical === null) return 'Payload purged by policy; its digest stands.';
  const payload: unknown = JSON.parse(canonical);
  if (typeof payload !== 'object' || payload === null) return String(payload);
  const members = new Map(Object.entries(payload));
  const words = said
    .map((name) => members.get(name))
    .find((text) => typeof text === 'string' && text !== '');
  if (typeof words === 'string') return words;
  return [...members]
    .filter(([, value]) => value !== null)
    .map(([name, value]) => (typeof value === 'object' ? name : `${name}: ${value}`))
    .join(', ');
}
