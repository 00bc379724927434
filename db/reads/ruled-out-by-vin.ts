import { type SQL, sql } from 'drizzle-orm';
import type { Condition } from '@/lib/bulletins/condition';
import { characterValues, checkCharacters, checkWeights } from '@/lib/bulletins/vin-check-digit';
import { unit } from '../schema';
import { failedBy } from './failed-by';

const characters = Object.keys(characterValues);
const values = Object.values(characterValues);
/** The VIN with each character put as the figure that it counts for. */
const counted = sql`translate(${unit.vin}, ${characters.join('')}, ${values.join('')})`;
const sum = checkWeights.map((weight, at) => `${weight} * (get_byte(counted, ${at}) - ascii('0'))`);

/**
 * Whether a VIN passes its check, as `validateVin` has it. Without the offset the database would put
 * the characters as figures anew for each position.
 */
const passes = sql`(not ${unit.isCheckDigitRequired}
  or substr(${unit.vin}, 9, 1) = substr(${checkCharacters}, 1 + (
    select (${sql.raw(sum.join(' + '))}) % ${sql.raw(String(checkCharacters.length))}
    from (select convert_to(${counted}, 'UTF8') as counted offset 0) as vin), 1))`;

const serial = sql`substr(${unit.vin}, case when substr(${unit.vin}, 3, 1) = '9' then 15 else 12 end)`;
/** As `decodeVin` has it; null where it is no number. */
const sequence = sql`(case when ${serial} ~ '^[0-9]+$' then ${serial}::float8 end)`;

export const isOfVin = ({ fact }: Condition): boolean =>
  fact === 'plant' || fact === 'VIN sequence';

/**
 * A condition on `unit`, never null: its VIN passes its check, and plant or sequence meets not all of
 * these conditions. The check is left to the last, since it takes the database longest.
 */
export function ruledOutByVin(conditions: readonly Condition[]): SQL {
  const failed = conditions.flatMap((condition) => {
    if (condition.fact === 'VIN sequence') return failedBy(condition, sequence);
    const others = characters.filter((character) => !condition.holds(character));
    return [sql`substr(${unit.vin}, 11, 1) = any(${sql.param(others)}::text[])`];
  });
  return failed.length === 0
    ? sql`false`
    : sql`coalesce((${sql.join(failed, sql` or `)}) and ${passes}, false)`;
}
