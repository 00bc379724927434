import { appendFileSync } from 'node:fs';

/** `npm run faults -- --long` asks for the figures that were promised; the short form runs with the tests. */
export const isLong = process.env.FAULTS === 'long';

export const atScale = (short: number, long: number): number => (isLong ? long : short);

/** Tells what a test found, and keeps it for the document where a long run asks for it. */
export function found(test: string, figures: string): void {
  console.log(`${test}: ${figures}`);
  const file = process.env.FAULT_FIGURES;
  if (file) appendFileSync(file, `${JSON.stringify({ test, figures })}\n`);
}
