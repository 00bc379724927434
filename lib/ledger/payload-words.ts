import { bulletinWords } from '@/lib/ledger/bulletin-words';

const said = ['why', 'reason', 'whatWasChecked', 'note', 'because', 'cause'];

/**
 * What an entry's canonical payload says for itself: why, reason, what was checked, note, because,
 * cause, whichever comes first; a bulletin as it was entered; else its members that a person reads, of
 * a list the first two. Source: own choice. Thin data: null, where policy has purged the payload, is
 * told as such.
 *
 * @example payloadWords('{"reason":"misread","to":3}') is 'misread'
 * @example payloadWords('{"placed":[{"workOrder":7,"shed":null}]}') is 'placed: work order 7'
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
  return bulletinWords(payload) ?? (membersInWords(members, ': ') || 'whole payload');
}

const shownOfList = 2;
/** What only a program asks of an entry; whoever wants it opens the whole payload. */
const unsaid = new Set(['digest', 'id', 'version']);
const uuid = /^[\da-f]{8}(-[\da-f]{4}){3}-[\da-f]{12}$/;

/** `workOrder` is `work order`. */
const nameInWords = (name: string): string =>
  name.replaceAll(/(?<=\p{Ll})\p{Lu}/gu, (letter) => ` ${letter.toLowerCase()}`);

const membersInWords = (members: Iterable<readonly [string, unknown]>, between: string): string =>
  [...members]
    .filter(([name, value]) => !unsaid.has(name) && hasWords(value))
    .map(([name, value]) => `${nameInWords(name)}${between}${valueInWords(value)}`)
    .join(', ');

function hasWords(value: unknown): boolean {
  if (typeof value === 'string') return !uuid.test(value);
  if (typeof value !== 'object' || Array.isArray(value)) return true;
  return value !== null && Object.values(value).some(hasWords);
}

function valueInWords(value: unknown): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value !== 'object' || value === null) return String(value);
  if ('value' in value && 'unit' in value) return `${value.value} ${value.unit}`;
  if (!Array.isArray(value)) {
    return bulletinWords(value) ?? membersInWords(Object.entries(value), ' ');
  }
  if (value.length === 0) return 'none';
  const more = value.length > shownOfList ? `; and ${value.length - shownOfList} more` : '';
  return `${value.slice(0, shownOfList).map(valueInWords).join('; ')}${more}`;
}
