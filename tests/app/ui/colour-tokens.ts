import { readFileSync } from 'node:fs';

const sheetOf = (path: string) =>
  readFileSync(new URL(`../../../app/${path}`, import.meta.url), 'utf8');

/** Screen colours of the first `:root` block of the style sheet. */
export const colourTokens = () => tokensFrom(sheetOf('globals.css'), ':root');

/** What the bay card puts in their place in a dark shop. */
export const darkTokens = () =>
  tokensFrom(sheetOf('(technician)/bay/bay.module.css'), 'prefers-color-scheme: dark');

function tokensFrom(sheet: string, mark: string): ReadonlyMap<string, string> {
  const from = sheet.indexOf(mark);
  const block = sheet.slice(from, sheet.indexOf('}', from));
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
