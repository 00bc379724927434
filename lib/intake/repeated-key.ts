/**
 * The first key that one object of a JSON text holds twice, or null. JSON readers keep the last of
 * them, so that what a person checked and what is stored could differ: RFC 8259, section 4, asks for
 * names that are unique within an object. The text must be JSON already; nothing recurses, so depth
 * is no limit.
 *
 * @example {"idle":"13","idle":"5"} repeats idle, and [{"a":1},{"a":2}] repeats nothing
 */
export function repeatedKey(json: string): string | null {
  const keysOfOpen: (Set<string> | null)[] = [];
  const tokens = /"(?:[^"\\]|\\.)*"(\s*:)?|[[\]{}]/g;
  for (const [token, colon] of json.matchAll(tokens)) {
    if (token === '{') keysOfOpen.push(new Set());
    else if (token === '[') keysOfOpen.push(null);
    else if (token === '}' || token === ']') keysOfOpen.pop();
    else if (colon !== undefined) {
      const key: string = JSON.parse(token.slice(0, -colon.length));
      const keys = keysOfOpen.at(-1);
      if (keys?.has(key)) return key;
      keys?.add(key);
    }
  }
  return null;
}
