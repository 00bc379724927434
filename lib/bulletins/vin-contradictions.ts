import type { DecodedVin } from '@/lib/bulletins/decode-vin';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { isoFromDay } from '@/lib/calendar';

const yearOf = (day: number): number => Number(isoFromDay(day).slice(0, 4));

/**
 * Where the VIN and the label cannot both be right. Both are kept as they stand; the list says what
 * to look at. A model year may begin in the calendar year before it and is built over two calendar
 * years at most, so a label from outside those is told.
 *
 * Source: 49 CFR 565.12(b), model year, from memory. Without a label there is nothing to contradict.
 */
export function vinContradictions(
  vin: DecodedVin,
  label: Pick<BulletinFacts, 'modelYear' | 'built'>,
): string[] {
  const told: string[] = [];
  const implied = vin.modelYears.join(' or ');
  if (vin.modelYears.length === 0) {
    told.push('position 10 of the VIN holds no model year code');
  } else if (label.modelYear !== null && !vin.modelYears.includes(label.modelYear)) {
    told.push(`the VIN says model year ${implied}, the label ${label.modelYear}`);
  }
  const { built } = label;
  if (built !== null && vin.modelYears.length > 0) {
    const [first, last] = [yearOf(built.from), yearOf(built.to)];
    const fits = vin.modelYears.some((year) => last >= year - 1 && first <= year + 1);
    if (!fits) told.push(`the VIN says model year ${implied}, the label says built in ${first}`);
  }
  return told;
}
