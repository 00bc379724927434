import { createHash } from 'node:crypto';
import { isDeepStrictEqual } from 'node:util';
import type { z } from 'zod';
import {
  type BackupClosing,
  type BackupHeader,
  backupClosing,
  backupHeader,
  backupTable,
  UnfitBackup,
} from './backup-format';

export type BackupPart =
  | { readonly kind: 'header'; readonly header: BackupHeader }
  | { readonly kind: 'table'; readonly table: string }
  | { readonly kind: 'row'; readonly row: string }
  /** Comes only after the counts and the digest of everything before it have been found right. */
  | { readonly kind: 'closing'; readonly closing: BackupClosing };

/** Reads the lines of a backup. Throws `UnfitBackup` on one cut short, altered, or no backup at all. */
export async function* backupParts(lines: AsyncIterable<string>): AsyncGenerator<BackupPart> {
  const digest = createHash('sha256');
  const rows: Record<string, number> = {};
  let table: string | null = null;
  let number = 0;
  let closing: BackupClosing | null = null;
  for await (const line of lines) {
    number += 1;
    if (closing) throw altered(number, 'something follows the closing line');
    if (number === 1) {
      yield { kind: 'header', header: parsed(backupHeader, line, number) };
    } else if (line.startsWith('"')) {
      if (table === null) throw altered(number, 'a row belongs to no table');
      rows[table] = (rows[table] ?? 0) + 1;
      yield { kind: 'row', row: String(jsonOf(line, number)) };
    } else if (line.startsWith('{"table"')) {
      ({ table } = parsed(backupTable, line, number));
      if (table in rows) throw altered(number, `the table ${table} comes twice`);
      rows[table] = 0;
      yield { kind: 'table', table };
    } else {
      closing = parsed(backupClosing, line, number);
      if (closing.digest !== digest.digest('hex') || !isDeepStrictEqual(closing.rows, rows)) {
        throw altered(number, 'its digest or its counts do not fit what stands before');
      }
      continue;
    }
    digest.update(`${line}\n`);
  }
  if (!closing) {
    throw new UnfitBackup(
      `The backup is cut short: it ends after line ${number}, without its closing line. Nothing was restored.`,
    );
  }
  yield { kind: 'closing', closing };
}

const altered = (line: number, why: string): UnfitBackup =>
  new UnfitBackup(
    `The backup is no longer as it was written: line ${line}, ${why}. Nothing was restored.`,
  );

function jsonOf(line: string, number: number): unknown {
  try {
    return JSON.parse(line);
  } catch {
    if (number === 1) throw notOurs();
    throw altered(number, 'it cannot be read');
  }
}

function parsed<Value>(schema: z.ZodType<Value>, line: string, number: number): Value {
  const found = schema.safeParse(jsonOf(line, number));
  if (found.success) return found.data;
  throw number === 1 ? notOurs() : altered(number, 'it cannot be read');
}

const notOurs = (): UnfitBackup =>
  new UnfitBackup('This is no backup of this product, or one of a version that it does not know.');
