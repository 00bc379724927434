import { type DecodedVin, decodeVin } from '@/lib/bulletins/decode-vin';
import type { MissingFact, Possible } from '@/lib/bulletins/possible';
import type { BulletinFacts } from '@/lib/bulletins/unit-facts';
import { validateVin } from '@/lib/bulletins/vin';

const readVin: MissingFact = {
  fact: 'VIN',
  whoCanGetIt: 'technician',
  how: 'Read all 17 characters from the plate or the label.',
};
const readVinAgain: MissingFact = {
  ...readVin,
  how: 'Read all 17 characters again: the number on record fails its check.',
};
const askMaker = (fact: string): MissingFact => ({
  fact,
  whoCanGetIt: 'fleet manager',
  how: 'Ask the maker whether the VIN is covered.',
});

type ReadVin = { readonly decoded: DecodedVin } | { readonly unread: Possible };

/** A VIN that fails its check is not used: one wrong character may be the plant or the year. */
function vinOf(facts: BulletinFacts, fact: string): ReadVin {
  if (facts.vin === null) {
    return {
      unread: { is: 'anything', told: () => `${fact} (VIN not on record)`, missing: readVin },
    };
  }
  const checked = validateVin(facts.vin, facts);
  return checked.ok
    ? { decoded: decodeVin(checked.value.vin, facts.gvwrKg) }
    : {
        unread: {
          is: 'anything',
          told: () => `${fact} (VIN fails its check)`,
          missing: readVinAgain,
        },
      };
}

export function readPlant(facts: BulletinFacts): Possible {
  const vin = vinOf(facts, 'plant');
  if ('unread' in vin) return vin.unread;
  return { is: 'known', value: vin.decoded.plant, told: () => `plant ${vin.decoded.plant}` };
}

export function readSequence(facts: BulletinFacts): Possible {
  const vin = vinOf(facts, 'VIN sequence');
  if ('unread' in vin) return vin.unread;
  const { sequence } = vin.decoded;
  const told = () => `VIN sequence ${sequence}`;
  return /^\d+$/.test(sequence)
    ? { is: 'known', value: Number(sequence), told }
    : { is: 'anything', told: () => `${told()}, not a number`, missing: askMaker('VIN sequence') };
}

/**
 * The label's model year and the VIN's, where they agree or only one is there. Where they disagree
 * either may be true, so both stay possible until somebody looks.
 */
export function readModelYear(facts: BulletinFacts): Possible {
  const vin = vinOf(facts, 'model year');
  const label = facts.modelYear;
  const implied = 'decoded' in vin ? vin.decoded.modelYears : [];
  if (label !== null && (implied.length === 0 || implied.includes(label))) {
    return { is: 'known', value: label, told: () => `model year ${label}` };
  }
  const [only] = implied;
  if (label === null && only !== undefined && implied.length === 1) {
    return { is: 'known', value: only, told: () => `model year ${only} by the VIN` };
  }
  if (implied.length > 0) {
    return {
      is: 'one of',
      values: label === null ? implied : [label, ...implied],
      told: () =>
        label === null
          ? `model year ${implied.join(' or ')} by the VIN`
          : `model year ${label} by the label, ${implied.join(' or ')} by the VIN`,
      missing: {
        fact: 'model year',
        whoCanGetIt: 'technician',
        how: 'Compare the plate and the label with the registration.',
      },
    };
  }
  return 'unread' in vin
    ? vin.unread
    : {
        is: 'anything',
        told: () => 'model year (no year code in position 10 of the VIN)',
        missing: {
          fact: 'model year',
          whoCanGetIt: 'fleet manager',
          how: 'Take it from the registration.',
        },
      };
}
