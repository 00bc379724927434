import { readFileSync } from 'node:fs';

/** Screen colours of the first `:root` block of the style sheet. */
export function colourTokens(): ReadonlyMap<string, string> {
  const sheet = readFileSync(new URL('../../../app/globals.css', import.meta.url), 'utf8');
  const block = sheet.slice(sheet.indexOf(':root'), sheet.indexOf('}'));
  return new Map(
    [...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6});/g)].map((match) => [
      match[1] ?? '',
      match[2] ?? '',
    ]),
  );
}

export function colourOf(token: string): string {
  const hex = colourTokens().get(token);
  if (hex === undefined) throw new Error(`no colour token ${token}`);
  return hex;
}
