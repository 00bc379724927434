import { randomBytes, randomUUID } from 'node:crypto';
import { asc, eq } from 'drizzle-orm';
import { codeLength, codeOfBytes, keyedCode } from '@/lib/people/one-time-code';
import type { Tx } from '../client';
import { sha256 } from '../ledger';
import { verification } from '../schema';

export const firstRunCodes = 'first run';
export const codesOfPerson = (personId: string): string => `code of ${personId}`;

/** Makes a code and keeps only its digest; the code itself is told once, to the caller. */
export async function makeCode(
  tx: Tx,
  identifier: string,
  now: Date,
  expiresAt: Date,
): Promise<string> {
  const code = codeOfBytes(randomBytes(codeLength));
  const symbols = keyedCode(code ?? '');
  if (code === null || symbols === null) throw new Error('a fresh code is not a code');
  await tx.insert(verification).values({
    id: randomUUID(),
    identifier,
    value: sha256(symbols),
    expiresAt,
    createdAt: now,
    updatedAt: now,
  });
  return code;
}

/** True once: the rows are locked first, so that of two who key the code at once one finds it gone. */
export async function spendCode(
  tx: Tx,
  identifier: string,
  keyed: string,
  now: Date,
): Promise<boolean> {
  const symbols = keyedCode(keyed);
  if (symbols === null) return false;
  const kept = await tx
    .select()
    .from(verification)
    .where(eq(verification.identifier, identifier))
    .orderBy(asc(verification.id))
    .for('update');
  const digest = sha256(symbols);
  if (!kept.some(({ value, expiresAt }) => value === digest && expiresAt > now)) return false;
  await withdrawCodes(tx, identifier);
  return true;
}

export async function withdrawCodes(tx: Tx, identifier: string): Promise<void> {
  await tx.delete(verification).where(eq(verification.identifier, identifier));
}
