export type Json =
  | null
  | boolean
  | number
  | string
  | readonly Json[]
  | { readonly [key: string]: Json };

/**
 * Canonical JSON, so that equal values give equal bytes and one digest.
 * Members sorted by UTF-16 code units, no white space, numbers and strings as ECMAScript writes them.
 * Source: RFC 8785 (JSON Canonicalization Scheme).
 * Throws a RangeError for numbers that JSON cannot hold and for lone surrogates; `undefined` members
 * are left out, as JSON.stringify does.
 *
 * @example canonicalJson({ b: 1, a: [true, null] }) is '{"a":[true,null],"b":1}'
 */
export function canonicalJson(value: Json): string {
  if (value === null || typeof value === 'boolean') return String(value);
  if (typeof value === 'number') {
    if (!Number.isFinite(value)) throw new RangeError(`${value} has no canonical JSON`);
    return JSON.stringify(value);
  }
  if (typeof value === 'string') return canonicalString(value);
  if (isList(value)) return `[${value.map(canonicalJson).join(',')}]`;
  const members = Object.keys(value)
    .filter((key) => value[key] !== undefined)
    .sort()
    .map((key) => `${canonicalString(key)}:${canonicalJson(value[key] as Json)}`);
  return `{${members.join(',')}}`;
}

const isList = (value: Json): value is readonly Json[] => Array.isArray(value);

function canonicalString(text: string): string {
  if (!text.isWellFormed()) throw new RangeError('a lone surrogate has no canonical JSON');
  return JSON.stringify(text);
}
