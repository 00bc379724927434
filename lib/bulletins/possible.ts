/** Something that a person could find out, who that is, and how. */
export interface MissingFact {
  readonly fact: string;
  readonly whoCanGetIt: 'technician' | 'fleet manager';
  readonly how: string;
}

export type FactValue = string | number;

/**
 * What a fact may be, given what is on record. Everything but `known` says what would settle it;
 * `told` puts the fact in words as it stands on the record, when somebody asks.
 */
export type Possible =
  | { readonly is: 'known'; readonly value: FactValue; readonly told: () => string }
  | {
      readonly is: 'one of';
      readonly values: readonly FactValue[];
      readonly told: () => string;
      readonly missing: MissingFact;
    }
  | {
      readonly is: 'within';
      readonly from: number;
      readonly to: number;
      readonly told: () => string;
      readonly missing: MissingFact;
    }
  | { readonly is: 'anything'; readonly told: () => string; readonly missing: MissingFact };

export const notOnRecord = (
  fact: string,
  whoCanGetIt: MissingFact['whoCanGetIt'],
  how: string,
): Possible => ({
  is: 'anything',
  told: () => `${fact} (not on record)`,
  missing: { fact, whoCanGetIt, how },
});

export const known = (value: FactValue, told: () => string): Possible => ({
  is: 'known',
  value,
  told,
});

/** Two facts with the same key cannot be told apart by any rule. */
export function keyOfPossible(possible: Possible): FactValue {
  switch (possible.is) {
    case 'known':
      return possible.value;
    case 'one of':
      return `one of ${possible.values.join('\u0000')}`;
    case 'within':
      return `within ${possible.from} ${possible.to}`;
    case 'anything':
      return '\u0000';
  }
}
