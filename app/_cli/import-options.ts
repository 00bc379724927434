import { parseArgs } from 'node:util';
import { z } from 'zod';
import { columnMapping, decimalMarks, encodings } from '@/lib/intake/import/column-mapping';
import { importKinds } from '@/lib/intake/import/import-fields';
import { failure, type Result, success } from '@/lib/result';

/** Bulletins have columns of their own, one row for each range. */
const commandKinds = [...importKinds, 'bulletins'] as const;

export const importUsage = `Put the rows of a CSV file on record.

  npm run --silent import -- --kind readings --file readings.csv --as ines@tarn.example [options]

  --kind KIND            ${commandKinds.join(', ')}
  --file FILE            CSV; its first line names the columns
  --as E-MAIL            the person who imports, with that person's rights
  --column FIELD=COLUMN  read the field from that column; once for each
  --unit FIELD=UNIT      unit of measure of a column: psi, inHg, kPa, mi or km
  --decimal MARK         point or comma; point otherwise
  --encoding NAME        utf-8 or windows-1252; utf-8 otherwise
  --dry-run              say what would become of each row, and put nothing on record
  --refused FILE         write the refused rows there, with reasons

DATABASE_URL and IDLEMARK_DATA say which database. Columns are read as they were the last time for a
file with the same header; those of bulletins stand under Effectivity, Import bulletins, and all of a
file is taken or none. Ends with 0; with 2 when rows were refused; with 1 when nothing was done.
`;

const pair = z.string().transform((text, context): readonly [string, string] => {
  const at = text.indexOf('=');
  if (at > 0) return [text.slice(0, at), text.slice(at + 1)];
  context.addIssue(`${text} is no FIELD=...`);
  return z.NEVER;
});

const options = z.object({
  kind: z.enum(commandKinds),
  file: z.string().min(1),
  as: z.string().min(1),
  column: z.array(pair).default([]),
  unit: z.array(pair).default([]),
  decimal: z.enum(decimalMarks).optional(),
  encoding: z.enum(encodings).optional(),
  'dry-run': z.boolean().default(false),
  refused: z.string().optional(),
});
export type ImportOptions = z.infer<typeof options>;

/** The options of the command, or what is wrong with them. */
export function importOptions(args: readonly string[]): Result<ImportOptions, string> {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: {
        kind: { type: 'string' },
        file: { type: 'string' },
        as: { type: 'string' },
        column: { type: 'string', multiple: true },
        unit: { type: 'string', multiple: true },
        decimal: { type: 'string' },
        encoding: { type: 'string' },
        'dry-run': { type: 'boolean' },
        refused: { type: 'string' },
      },
    });
    const parsed = options.safeParse(values);
    if (parsed.success) return success(parsed.data);
    return failure(
      parsed.error.issues.map(({ path, message }) => `--${String(path[0])}: ${message}`).join('\n'),
    );
  } catch (error) {
    return failure(error instanceof Error ? error.message : String(error));
  }
}

/** The mapping that was remembered or guessed, with what the options say instead. */
export const mappingWith = (
  mapping: z.infer<typeof columnMapping>,
  { column, unit, decimal, encoding }: ImportOptions,
): z.infer<typeof columnMapping> =>
  columnMapping.parse({
    columns: { ...mapping.columns, ...Object.fromEntries(column) },
    units: { ...mapping.units, ...Object.fromEntries(unit) },
    decimal: decimal ?? mapping.decimal,
    encoding: encoding ?? mapping.encoding,
  });
